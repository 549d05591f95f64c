// Pictures of takes in the project's own look, printable on white: every mark keeps 3:1 (WCAG 2.2, 1.4.11)
// and every word 4.5:1 (1.4.3) on it.

#include "Base/Inks.h"
#include "Reports/TakePicture.h"

#include <cmath>
#include <gtest/gtest.h>
#include <pugixml.hpp>
#include <set>

namespace valveladder {

namespace {

double luminance(std::uint32_t rgb) {
    const auto part = [rgb](unsigned shift) {
        const double c = static_cast<double>((rgb >> shift) & 0xFFU) / 255.0;
        return c <= 0.04045 ? c / 12.92 : std::pow((c + 0.055) / 1.055, 2.4);
    };
    return 0.2126 * part(16) + 0.7152 * part(8) + 0.0722 * part(0);
}

double againstWhite(std::uint32_t rgb) {
    return 1.05 / (luminance(rgb) + 0.05);
}

std::uint32_t rgbOf(const std::string& css) {
    EXPECT_EQ(css.size(), 7U) << css;
    return static_cast<std::uint32_t>(std::stoul(css.substr(1), nullptr, 16));
}

/// A take with each kind of mark in it.
std::string everyMark() {
    const Instrument& trumpet = *findInstrument("trumpet-b-flat");
    const Score score = buildScore(defaultDrill(trumpet), trumpet, 66.0).value();
    Performance played;
    for (int i = 0; i < 6; ++i) {
        NoteResult note;
        note.index = i;
        note.outcome = i == 1 ? Outcome::wrong : i == 2 ? Outcome::missed : Outcome::right;
        note.played = 60;
        note.deviationMs = 5.0 * i;
        note.split = i == 3;
        note.breathBefore = i == 4;
        played.notes.push_back(note);
    }
    ChangeResult change;
    change.toIndex = 1;
    change.changeoverMs = 80.0;
    played.changes.push_back(change);
    ExtraNote extra;
    extra.nearIndex = 5;
    extra.played = 61;
    played.extras.push_back(extra);
    return takePicture(played, score, trumpet, {"Daily ladder", "66 bpm"});
}

} // namespace

TEST(ReportsLook, APictureIsInTheProjectsInksAndLettersAndReadableOnWhite) {
    pugi::xml_document document;
    ASSERT_TRUE(document.load_string(everyMark().c_str()));
    const auto root = document.child("svg");
    EXPECT_TRUE(std::string(root.attribute("font-family").value()).starts_with("Inter"));
    std::set<std::uint32_t> marks;
    int texts = 0;
    for (const auto& mark : root.children()) {
        const std::string name = mark.name();
        for (const char* which : {"fill", "stroke"}) {
            const std::string css = mark.attribute(which).value();
            if (css.empty() || css == "none" || css == "#FFFFFF")
                continue;
            marks.insert(rgbOf(css));
            EXPECT_GE(againstWhite(rgbOf(css)), name == "text" ? 4.5 : 3.0) << css;
        }
        texts += name == "text" ? 1 : 0;
    }
    EXPECT_GT(texts, 20);
    EXPECT_EQ(marks, (std::set<std::uint32_t>{inks::ink, inks::rule, inks::brass, inks::wrong}));
}

TEST(ReportsLook, EveryInkForWordsKeepsItsContrastOnWhite) {
    for (const std::uint32_t words :
         {inks::ink, inks::second, inks::brass, inks::right, inks::wrong, inks::blue, inks::purple})
        EXPECT_GE(againstWhite(words), 4.5) << std::hex << words;
    EXPECT_GE(againstWhite(inks::rule), 3.0);
}

} // namespace valveladder
