// Pictures of takes in the project's own look, printable on white: every mark keeps 3:1 (WCAG 2.2, 1.4.11)
// and every word 4.5:1 (1.4.3) on it.

#include "Base/Inks.h"
#include "Reports/SideBySideReport.h"
#include "Reports/SvgPicture.h"
#include "Reports/TakePicture.h"
#include "Words/NoteSigns.h"

#include <algorithm>
#include <cmath>
#include <gtest/gtest.h>
#include <map>
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

const Instrument& trumpet() {
    return *findInstrument("trumpet-b-flat");
}

Score scoreFor(const Instrument& instrument) {
    return buildScore(defaultDrill(instrument), instrument, 66.0).value();
}

/// Its first notes heard, all right and in time.
Performance heardWell(const Score& score, int notes) {
    Performance played;
    for (int i = 0; i < notes; ++i) {
        NoteResult note;
        note.index = i;
        note.outcome = Outcome::right;
        note.played = score.notes[static_cast<std::size_t>(i)].sounding;
        note.deviationMs = 5.0;
        played.notes.push_back(note);
    }
    return played;
}

/// A take with each kind of mark in it.
std::string everyMark() {
    const Score score = scoreFor(trumpet());
    Performance played = heardWell(score, 10);
    played.notes[1].outcome = Outcome::wrong;
    played.notes[2].outcome = Outcome::missed;
    played.notes[3].split = true;
    played.notes[4].breathBefore = true;
    played.notes[6].valvesWrong = true;
    played.notes[7].deviationMs = 163.0;
    played.notes[8].deviationMs = -62.0;
    ChangeResult change;
    change.toIndex = 1;
    change.change = score.changeInto(1);
    change.changeoverMs = 80.0;
    change.lateByMs = 31.0;
    change.lateFingers = *Combination::parse("3");
    played.changes.push_back(change);
    ExtraNote extra;
    extra.nearIndex = 5;
    extra.played = 61;
    played.extras.push_back(extra);
    return takePicture(played, score, trumpet(), {"Daily ladder", "66 bpm"});
}

/// How often a sign stands in a picture with a title that holds `told`.
int timesDrawn(const pugi::xml_document& picture, Sign sign, const std::string& told) {
    int times = 0;
    for (const auto& path : picture.child("svg").children("path")) {
        const bool shaped = path.attribute("d").value() == std::string(shapeOf(sign).path);
        times += shaped && std::string(path.child_value("title")).find(told) != std::string::npos ? 1 : 0;
    }
    return times;
}

std::string textsOf(const pugi::xml_document& picture) {
    std::string texts;
    for (const auto& text : picture.child("svg").children("text"))
        texts += std::string(text.text().get()) + "\n";
    return texts;
}

/// Words that touch one beside them on their line.
std::vector<std::string> touching(const pugi::xml_document& picture) {
    struct Placed {
        double from = 0.0, to = 0.0;
        std::string words;
    };
    std::map<std::string, std::vector<Placed>> lines;
    for (const auto& text : picture.child("svg").children("text")) {
        const std::string words = text.text().get(), anchor = text.attribute("text-anchor").value();
        const double width = SvgPicture::textWidth(words, text.attribute("font-size").as_double());
        const double x = text.attribute("x").as_double();
        const double from = anchor == "start" ? x : anchor == "middle" ? x - width / 2.0 : x - width;
        lines[text.attribute("y").value()].push_back({from, from + width, words});
    }
    std::vector<std::string> found;
    for (auto& [y, line] : lines) {
        std::ranges::sort(line, {}, &Placed::from);
        for (std::size_t i = 1; i < line.size(); ++i)
            if (line[i].from - line[i - 1].to < 3.0)
                found.push_back(line[i - 1].words + "|" + line[i].words);
    }
    return found;
}

pugi::xml_document parsed(const std::string& svg) {
    pugi::xml_document document;
    EXPECT_TRUE(document.load_string(svg.c_str()));
    return document;
}

} // namespace

TEST(ReportsLook, APictureIsInTheProjectsInksAndLettersAndReadableOnWhite) {
    const auto document = parsed(everyMark());
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
    EXPECT_EQ(marks, (std::set<std::uint32_t>{inks::ink, inks::rule, inks::brass, inks::wrong, inks::right}));
}

TEST(ReportsLook, ATakeIsSignedByTheSignsOfTheWindowsSheet) {
    const auto picture = parsed(everyMark());
    EXPECT_EQ(timesDrawn(picture, signOf(NoteSign::Kind::right), ": right"), 5);
    EXPECT_EQ(timesDrawn(picture, signOf(NoteSign::Kind::wrong), ": wrong note"), 1);
    EXPECT_EQ(timesDrawn(picture, signOf(NoteSign::Kind::missed), ": missed"), 1);
    EXPECT_EQ(timesDrawn(picture, signOf(NoteSign::Kind::split), ": split"), 1);
    EXPECT_EQ(timesDrawn(picture, signOf(NoteAside::breath), ": after a breath"), 1);
    EXPECT_EQ(timesDrawn(picture, signOf(NoteAside::extra), " heard besides"), 1);
    EXPECT_EQ(timesDrawn(picture, signOf(NoteAside::valves), ": with other valves"), 1);
    const std::string texts = textsOf(picture);
    for (const char* figure : {"+163\n", "-62\n"})
        EXPECT_NE(texts.find(figure), std::string::npos) << texts;
    EXPECT_EQ(picture.select_nodes("//path[contains(title, 'finger 3 after')]").size(), 1U);
}

TEST(ReportsLook, ALegendTellsTheSignsThatOccurAndNoOthers) {
    const std::string every = textsOf(parsed(everyMark()));
    for (const auto kind : {NoteSign::Kind::right, NoteSign::Kind::late, NoteSign::Kind::wrong,
                            NoteSign::Kind::missed, NoteSign::Kind::split})
        EXPECT_NE(every.find(std::string(words::signMeaning(kind)) + "\n"), std::string::npos) << every;
    for (const auto aside : {NoteAside::breath, NoteAside::extra, NoteAside::valves, NoteAside::lateFinger})
        EXPECT_NE(every.find(std::string(words::signMeaning(aside)) + "\n"), std::string::npos) << every;
    const Score score = scoreFor(trumpet());
    const std::string well =
        textsOf(parsed(takePicture(heardWell(score, 6), score, trumpet(), {"Daily ladder", "66 bpm"})));
    EXPECT_NE(well.find("right\n"), std::string::npos);
    EXPECT_EQ(well.find(words::signMeaning(NoteSign::Kind::wrong)), std::string::npos) << well;
}

TEST(ReportsLook, FingeringsAndFiguresOfATakeDoNotTouch) {
    for (const Instrument& instrument : catalogue()) {
        const Score score = scoreFor(instrument);
        Performance played = heardWell(score, static_cast<int>(score.notes.size()));
        for (NoteResult& note : played.notes)
            note.deviationMs = note.index % 2 == 0 ? -62.0 : 163.0;
        const auto picture = parsed(takePicture(played, score, instrument, {"Daily ladder", "66 bpm"}));
        EXPECT_EQ(touching(picture), std::vector<std::string>()) << instrument.id;
    }
}

TEST(ReportsLook, SidesWithLongNamesDoNotTouch) {
    const Score score = scoreFor(trumpet());
    const Performance first = heardWell(score, 40), second = heardWell(score, 40);
    const auto sides = sideBySide(score, {{"2026-03-09 08:30, before the week", 66.0, {&first}},
                                          {"2026-03-16 08:30, after the week", 72.0, {&second}}});
    const auto picture = parsed(sideSvg(sides, score, trumpet(), NoteMeasure::deviation));
    EXPECT_NE(textsOf(picture).find("after the week, 72 bpm"), std::string::npos);
    EXPECT_EQ(touching(picture), std::vector<std::string>());
}

TEST(ReportsLook, EveryInkForWordsKeepsItsContrastOnWhite) {
    for (const std::uint32_t words :
         {inks::ink, inks::second, inks::brass, inks::right, inks::wrong, inks::blue, inks::purple})
        EXPECT_GE(againstWhite(words), 4.5) << std::hex << words;
    EXPECT_GE(againstWhite(inks::rule), 3.0);
}

} // namespace valveladder
