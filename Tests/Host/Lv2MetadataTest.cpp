// What the LV2 bundle says of the plugin, against the LV2 specification's own files (package lv2-dev) by
// sord_validate (package sordi).

#include "Host/Ardour.h"
#include "Host/TempLog.h"

#include <gtest/gtest.h>

#include <cstdlib>
#include <fmt/format.h>

namespace valveladder::host {

TEST(Lv2Metadata, ValidatorFindsNothing) {
    const auto bundle = builtPlugin(Format::lv2);
    if (!std::filesystem::exists(bundle))
        GTEST_SKIP() << "this build has no LV2";
    if (!installed("lv2_validate") || !installed("sord_validate"))
        GTEST_SKIP() << "lv2_validate or sord_validate is not installed (Debian packages lv2-dev, sordi)";
    const TempLog temp;
    const auto output = temp.folder() / "validate.txt";
    const int status = std::system(
        fmt::format("lv2_validate '{}'/*.ttl > '{}' 2>&1", bundle.string(), output.string()).c_str());
    const std::string words = readText(output);
    EXPECT_EQ(status, 0) << words;
    EXPECT_NE(words.find("Found 0 errors"), std::string::npos) << words;
}

TEST(Lv2Metadata, NoAddressNamesAFileOfTheBundle) {
    const auto bundle = builtPlugin(Format::lv2);
    if (!std::filesystem::exists(bundle))
        GTEST_SKIP() << "this build has no LV2";
    const std::string dsp = readText(bundle / "dsp.ttl");
    EXPECT_EQ(dsp.find("<>"), std::string::npos) << "an empty address is the file itself";
    EXPECT_NE(dsp.find("foaf:name"), std::string::npos);
}

} // namespace valveladder::host
