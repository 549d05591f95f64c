// A part with repeats is marked as it is played and printed as it stands.

#include "Music/WrittenPart.h"

#include "Files/MusicXml.h"

#include <gtest/gtest.h>

#include <fmt/format.h>
#include <set>
#include <string>

namespace valveladder {

namespace {

const Instrument& trumpet() {
    return *findInstrument("trumpet-b-flat");
}

std::string quarter(const std::string& step, const std::string& more = "") {
    return fmt::format(
        "<note><pitch><step>{}</step><octave>4</octave></pitch><duration>1</duration>{}</note>", step, more);
}

/// Bar 1, bar 2 as first ending, bar 3 as second, into which the last note of bar 1 is tied both times.
MusicXmlFile repeated() {
    const std::string head = "<attributes><divisions>1</divisions></attributes>";
    const std::string tie = "<tie type=\"start\"/>";
    const std::string tied = "<tie type=\"stop\"/>";
    const std::string text =
        "<score-partwise><part-list><score-part id=\"P\"><part-name>A</part-name></score-part></part-list>"
        "<part id=\"P\"><measure number=\"1\">" +
        head + quarter("C") + quarter("D") + quarter("E") + quarter("A", tie) +
        "</measure><measure number=\"2\"><barline location=\"left\"><ending number=\"1\" type=\"start\"/>"
        "</barline>" +
        quarter("A", tied) + quarter("F") + quarter("E") + quarter("D") +
        "<barline location=\"right\"><ending number=\"1\" type=\"stop\"/><repeat direction=\"backward\"/>"
        "</barline></measure><measure number=\"3\"><barline location=\"left\"><ending number=\"2\" "
        "type=\"start\"/></barline>" +
        quarter("A", tied) + quarter("B") + quarter("B") + quarter("B") +
        "<barline location=\"right\"><ending number=\"2\" type=\"discontinue\"/></barline></measure>"
        "</part></score-partwise>";
    auto file = MusicXmlFile::read({reinterpret_cast<const std::uint8_t*>(text.data()), text.size()});
    return std::move(file.value());
}

Part line(const MusicXmlFile& file, bool unroll) {
    PartChoice choice;
    choice.unroll = unroll;
    return file.part(choice).value();
}

} // namespace

TEST(WrittenBars, EachBarStandsOnceWithItsSigns) {
    const MusicXmlFile file = repeated();
    const Part played = line(file, true);
    const Part written = line(file, false);
    EXPECT_EQ(played.bars.size(), 4U);
    EXPECT_TRUE(played.signs.empty());
    ASSERT_EQ(written.bars.size(), 3U);
    ASSERT_EQ(written.signs.size(), 3U);
    EXPECT_EQ(written.signs[1].repeatTimes, 2);
    EXPECT_EQ(written.signs[1].endings, (std::vector<int>{1}));
    EXPECT_EQ(written.signs[2].endings, (std::vector<int>{2}));
}

TEST(WrittenBars, NotesAreMarkedAsTheFirstTimeTheyArePlayed) {
    const MusicXmlFile file = repeated();
    const Part played = line(file, true);
    const Part written = line(file, false);
    Marking marking = markPart(played, trumpet());
    // The second time through, the same notes get another fingering than the first time.
    const Fingering other = fingerings(trumpet(), 64).at(1); // E4 by 3 instead of 1-2
    int time = 0;
    for (MarkedNote& note : marking.notes)
        if (played.notes[static_cast<std::size_t>(note.note)].written == 64 && time++ == 2)
            note.fingering = other;
    ASSERT_EQ(time, 3) << "E of bar 1 twice, of bar 2 once";
    const WrittenMarks marks = onWrittenPart(written, markPart(written, trumpet()), played, marking, {});
    ASSERT_EQ(marks.marking.notes.size(), written.notes.size());
    for (const MarkedNote& note : marks.marking.notes) {
        const PartNote& of = written.notes[static_cast<std::size_t>(note.note)];
        EXPECT_EQ(note.fingering, fingerings(trumpet(), of.written).front())
            << pitchName(of.written, Spelling::sharps);
    }
}

TEST(WrittenBars, EndOfATieThatOnlyThePrintedPartHasIsFingeredAsItsNote) {
    const MusicXmlFile file = repeated();
    const Part played = line(file, true);
    const Part written = line(file, false);
    const Marking marking = markPart(played, trumpet());
    // In the second ending the A stands by itself on paper; when played it is held from bar 1.
    ASSERT_EQ(written.notes.size(), 11U);
    ASSERT_EQ(marking.notes.size(), 3U + 4U + 3U + 4U);
    const WrittenMarks marks = onWrittenPart(written, markPart(written, trumpet()), played, marking, {});
    ASSERT_EQ(marks.marking.notes.size(), 11U);
    for (const MarkedNote& note : marks.marking.notes)
        EXPECT_TRUE(
            note.fingering ==
            fingerings(trumpet(), written.notes[static_cast<std::size_t>(note.note)].written).front());
}

TEST(WrittenBars, SpotsPointAtThePrintedNotesTheyWerePlayedFrom) {
    const MusicXmlFile file = repeated();
    const Part played = line(file, true);
    const Part written = line(file, false);
    constexpr double quick = 6.0; // of the part's tempo: at its own nothing in it is awkward
    const Marking marking = markPart(played, trumpet(), {}, quick);
    const auto spots = rankedSpots(played, marking, trumpet());
    ASSERT_FALSE(spots.empty());
    std::set<std::pair<int, std::string>> seen; // bar of the file, change: each in one spot, endings and all
    for (const Spot& spot : spots) {
        std::set<int> bars;
        for (const int note : spot.notes)
            bars.insert(played
                            .bars[static_cast<std::size_t>(
                                played
                                    .notes[static_cast<std::size_t>(
                                        marking.notes[static_cast<std::size_t>(note)].note)]
                                    .bar)]
                            .source);
        const Change& way = spot.change;
        for (const int bar : bars)
            EXPECT_TRUE(
                seen.emplace(bar, changeName({std::min(way.from, way.to), std::max(way.from, way.to)}, false))
                    .second)
                << spot.words << " a second time";
    }
    const WrittenMarks marks = onWrittenPart(written, markPart(written, trumpet()), played, marking, spots);
    ASSERT_EQ(marks.spots.size(), spots.size());
    for (std::size_t i = 0; i < spots.size(); ++i) {
        std::set<int> wanted, found;
        for (const int note : spots[i].notes)
            wanted.insert(
                played.notes[static_cast<std::size_t>(marking.notes[static_cast<std::size_t>(note)].note)]
                    .source);
        for (const int note : marks.spots[i].notes)
            found.insert(
                written
                    .notes[static_cast<std::size_t>(marks.marking.notes[static_cast<std::size_t>(note)].note)]
                    .source);
        EXPECT_EQ(found, wanted) << spots[i].words;
        EXPECT_EQ(marks.spots[i].words, spots[i].words);
    }
}

} // namespace valveladder
