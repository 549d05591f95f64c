// Parts as they are engraved: values, tuplets, ties, rests, keys and meters, from MusicXML and MIDI.

#include "Engraving/PartLayout.h"

#include "Files/MusicXml.h"
#include "Files/PartSmf.h"

#include <gtest/gtest.h>

#include <fmt/format.h>
#include <string>

namespace valveladder {

namespace {

const Instrument& trumpet() {
    return *findInstrument("trumpet-b-flat");
}

std::string note(const std::string& step, int alter, int octave, int duration, const std::string& more = "") {
    return fmt::format("<note><pitch><step>{}</step><alter>{}</alter><octave>{}</octave></pitch>"
                       "<duration>{}</duration>{}</note>",
                       step, alter, octave, duration, more);
}

/// One part whose first bar begins with divisions 12, in the key and meter given.
Part partOf(const std::vector<std::string>& bars, int fifths = 0, int beats = 4, int unit = 4) {
    std::string text = "<score-partwise><part-list><score-part id=\"P\"><part-name>A</part-name></score-part>"
                       "</part-list><part id=\"P\">";
    for (std::size_t i = 0; i < bars.size(); ++i)
        text += fmt::format(
            "<measure number=\"{}\">{}{}</measure>", i + 1,
            i == 0 ? fmt::format("<attributes><divisions>12</divisions><key><fifths>{}</fifths></key>"
                                 "<time><beats>{}</beats><beat-type>{}</beat-type></time></attributes>",
                                 fifths, beats, unit)
                   : "",
            bars[i]);
    text += "</part></score-partwise>";
    return MusicXmlFile::read({reinterpret_cast<const std::uint8_t*>(text.data()), text.size()})
        .value()
        .part({})
        .value();
}

LaidPart laid(const Part& part) {
    auto result = layOutPart(part, markPart(part, trumpet()), 0, static_cast<int>(part.bars.size()));
    EXPECT_TRUE(result) << result.problem().text();
    return std::move(result.value());
}

/// "8 8~ ~4. r4 8/3": values, dots, ties, rests, tuplets.
std::string shown(const SheetBar& bar) {
    std::string text;
    for (const SheetSymbol& symbol : bar.symbols) {
        text += text.empty() ? "" : " ";
        if (symbol.wholeBar) {
            text += "R";
            continue;
        }
        text += fmt::format(
            "{}{}{}{}{}{}", symbol.tiedFrom ? "~" : "", symbol.note < 0 ? "r" : "", 1 << symbol.value.power,
            std::string(static_cast<std::size_t>(symbol.value.dots), '.'),
            symbol.ratio.isTuplet() ? fmt::format("/{}", symbol.ratio.actual) : "", symbol.tiedTo ? "~" : "");
        if (symbol.tupletStop)
            text += "]";
    }
    return text;
}

} // namespace

TEST(PartLayout, ValuesDotsAndRests) {
    const Part part = partOf({note("C", 0, 5, 12) + note("D", 0, 5, 18) + note("E", 0, 5, 6) +
                                  "<note><rest/><duration>12</duration></note>",
                              "<note><rest/><duration>48</duration></note>"});
    const LaidPart layout = laid(part);
    ASSERT_EQ(layout.layout.bars.size(), 2U);
    EXPECT_EQ(shown(layout.layout.bars[0]), "4 4. 8 r4");
    EXPECT_EQ(shown(layout.layout.bars[1]), "R");
}

TEST(PartLayout, TripletsAreBracketedByTheirGroup) {
    const Part part = partOf({note("C", 0, 5, 4) + note("D", 0, 5, 4) + note("E", 0, 5, 4) +
                              note("F", 0, 5, 8) + note("E", 0, 5, 4) + note("C", 0, 5, 24)});
    EXPECT_EQ(shown(laid(part).layout.bars[0]), "8/3 8/3 8/3] 4/3 8/3] 2");
}

TEST(PartLayout, NoteOverTheBarLineIsTied) {
    const Part part = partOf({note("C", 0, 5, 36) + note("D", 0, 5, 12, "<tie type=\"start\"/>"),
                              note("D", 0, 5, 12, "<tie type=\"stop\"/>") + note("E", 0, 5, 36)});
    const LaidPart layout = laid(part);
    EXPECT_EQ(shown(layout.layout.bars[0]), "2. 4~");
    EXPECT_EQ(shown(layout.layout.bars[1]), "~4 2.");
    EXPECT_EQ(layout.score.notes.size(), 3U);
}

TEST(PartLayout, TheFilesSpellingAndKeyAreKept) {
    // B flat and C sharp in F major: the flat belongs to the key, the sharp is printed.
    const Part part = partOf({note("B", -1, 4, 24) + note("C", 1, 5, 24)}, -1);
    const LaidPart layout = laid(part);
    EXPECT_EQ(layout.layout.bars[0].fifths, -1);
    ASSERT_EQ(layout.layout.spellings.size(), 2U);
    EXPECT_EQ(layout.layout.spellings[0], (Spelled{6, -1, 4}));
    EXPECT_EQ(layout.layout.spellings[1], (Spelled{0, 1, 5}));
    BarAccidentals accidentals;
    accidentals.newBar(-1);
    EXPECT_FALSE(accidentals.print(layout.layout.spellings[0], false));
    EXPECT_EQ(accidentals.print(layout.layout.spellings[1], false), 1);
}

TEST(PartLayout, GraceNotesStandBeforeTheirNote) {
    const std::string grace = "<note><grace/><pitch><step>B</step><octave>4</octave></pitch></note>";
    const Part part = partOf({grace + note("C", 0, 5, 48)});
    const LaidPart layout = laid(part);
    EXPECT_EQ(shown(layout.layout.bars[0]), "1");
    EXPECT_EQ(layout.layout.bars[0].symbols.front().graces, (std::vector{0}));
}

TEST(PartLayout, CompoundMeterBeamsByDottedBeats) {
    std::string six;
    for (int i = 0; i < 6; ++i)
        six += note("C", 0, 5, 6);
    const LaidPart layout = laid(partOf({six}, 0, 6, 8));
    const std::vector<SheetSymbol>& symbols = layout.layout.bars[0].symbols;
    ASSERT_EQ(symbols.size(), 6U);
    EXPECT_EQ(symbols[0].beams, (std::vector{BeamPart::begin}));
    EXPECT_EQ(symbols[2].beams, (std::vector{BeamPart::end}));
    EXPECT_EQ(symbols[3].beams, (std::vector{BeamPart::begin}));
}

TEST(PartLayout, MidiPlayedWithGapsIsReadAsWritten) {
    // Quarters at 95 per cent of their length, a usual gate, a little late.
    SmfFile file{1, 480, {{{}, 1920}}};
    for (int i = 0; i < 4; ++i) {
        file.tracks[0].events.push_back({i * 480 + 3, {0x90, 60, 80}});
        file.tracks[0].events.push_back({i * 480 + 459, {0x80, 60, 0}});
    }
    const Part part = partFromSmf(file, {}, -2).value();
    EXPECT_EQ(shown(laid(part).layout.bars[0]), "4 4 4 4");
}

TEST(PartLayout, BarsThatAreNotThereAreRefused) {
    const Part part = partOf({note("C", 0, 5, 48)});
    const Marking marking = markPart(part, trumpet());
    EXPECT_FALSE(layOutPart(part, marking, 1, 1));
    EXPECT_FALSE(layOutPart(part, marking, 0, 2));
    EXPECT_FALSE(layOutPart(part, marking, 0, 0));
}

} // namespace valveladder
