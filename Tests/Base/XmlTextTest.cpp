#include "Base/XmlText.h"

#include <gtest/gtest.h>
#include <pugixml.hpp>

namespace valveladder {

TEST(XmlText, ComesBackFromAReaderAsItWasButForControlCharacters) {
    const std::string text = "Ann & \"Bo\" <3> 'n' ]]> \xE2\x99\xAD";
    pugi::xml_document document;
    const std::string xml =
        "<a b=\"" + xmlText(text) + "\" c='" + xmlText(text) + "'>" + xmlText(text) + "</a>";
    ASSERT_TRUE(document.load_string(xml.c_str()));
    EXPECT_EQ(document.child("a").text().get(), text);
    EXPECT_EQ(document.child("a").attribute("b").value(), text);
    EXPECT_EQ(document.child("a").attribute("c").value(), text);
    EXPECT_EQ(xmlText("a\x01\tb"), "a  b");
}

} // namespace valveladder
