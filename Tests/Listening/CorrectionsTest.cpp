// What a player says was right, taken for it. The playing is invented.
#include "Listening/Corrections.h"

#include "MidiListenerPlayers.h"
#include "Words/ReportWords.h"

namespace valveladder {

namespace {

using namespace test;
using Kind = ReportKind;

constexpr std::size_t wrongNote = 3;
constexpr std::size_t missedNote = 9;
constexpr std::size_t splitNote = 14;
constexpr std::size_t besideNote = 20;

const Score& score() {
    static const Score made = ladder(60, oneSegment(Segment{}, 4));
    return made;
}

PlayedNote between(const PlayedNote& before, double share, double seconds, MidiNote pitch) {
    PlayedNote extra = before;
    extra.onset = before.onset + share * (before.offset - before.onset);
    extra.offset = extra.onset + seconds;
    extra.pitch = pitch;
    return extra;
}

/// A take with a wrong note, a missed one, one that spoke twice, and a note beside another.
Performance faulty() {
    std::mt19937 random(1);
    auto notes = play(score(), {}, random);
    notes[wrongNote].pitch += 1;
    PlayedNote again = between(notes[splitNote], 0.5, 0.1, notes[splitNote].pitch);
    again.offset = notes[splitNote].offset; // until the next one, else a breath would be told there
    notes[splitNote].offset = again.onset - 0.02;
    const PlayedNote beside = between(notes[besideNote], 0.5, 0.05, notes[besideNote].pitch + 5);
    notes.push_back(again);
    notes.push_back(beside);
    notes.erase(notes.begin() + static_cast<std::ptrdiff_t>(missedNote));
    std::ranges::sort(notes, {}, &PlayedNote::onset);
    return listen(score(), notes);
}

Correction said(std::size_t note, Kind kind) {
    return {{static_cast<int>(note), kind}, 1};
}

const NoteResult& noteOf(const Performance& performance, std::size_t index) {
    return performance.notes.at(index);
}

} // namespace

TEST(Corrections, EveryFaultOfATakeIsAReportOfItsNote) {
    const auto reports = reportsOf(faulty());
    const std::vector<NoteReport> expected{{static_cast<int>(wrongNote), Kind::wrong},
                                           {static_cast<int>(missedNote), Kind::missed},
                                           {static_cast<int>(splitNote), Kind::split},
                                           {static_cast<int>(besideNote), Kind::extra}};
    EXPECT_EQ(reports, expected);
}

TEST(Corrections, NotesThatThePlayerSaysWereRightCountAsRight) {
    const Performance heard = faulty();
    const std::vector<Correction> all{said(wrongNote, Kind::wrong), said(missedNote, Kind::missed),
                                      said(splitNote, Kind::split), said(besideNote, Kind::extra)};
    ASSERT_FALSE(heard.clean());
    const Performance taken = corrected(heard, all);
    EXPECT_EQ(taken.count(Outcome::right), static_cast<int>(taken.notes.size()));
    EXPECT_FALSE(noteOf(taken, splitNote).split);
    EXPECT_TRUE(taken.extras.empty());
    EXPECT_TRUE(taken.clean());
    EXPECT_TRUE(reportsOf(taken).empty());
    ASSERT_EQ(taken.segments.size(), 1U);
    EXPECT_EQ(taken.segments[0].right, taken.segments[0].expected);
    EXPECT_EQ(taken.segments[0].wrong + taken.segments[0].missed + taken.segments[0].extra, 0);
}

TEST(Corrections, WhatWasMeasuredStaysAndNothingIsMadeUp) {
    const Performance heard = faulty();
    const Performance taken =
        corrected(heard, std::vector{said(wrongNote, Kind::wrong), said(missedNote, Kind::missed)});
    NoteResult wrong = noteOf(heard, wrongNote);
    wrong.outcome = Outcome::right;
    EXPECT_EQ(noteOf(taken, wrongNote), wrong);
    EXPECT_FALSE(noteOf(taken, missedNote).onsetSeconds || noteOf(taken, missedNote).deviationMs);
    EXPECT_EQ(taken.changes, heard.changes);
    EXPECT_EQ(taken.segments[0].onsetSpreadMs, heard.segments[0].onsetSpreadMs);
    EXPECT_EQ(taken.asynchronyMs, heard.asynchronyMs);
    // What was not corrected is still told.
    EXPECT_TRUE(noteOf(taken, splitNote).split);
    EXPECT_EQ(taken.segments[0].extra, heard.segments[0].extra);
}

TEST(Corrections, OfAnotherKindOrNoteDoNothingAndTwiceIsOnce) {
    const Performance heard = faulty();
    for (const Correction& strange :
         {said(wrongNote, Kind::missed), said(wrongNote, Kind::split), said(splitNote, Kind::cracked),
          said(splitNote, Kind::extra), said(0, Kind::wrong), said(5000, Kind::missed)})
        EXPECT_EQ(corrected(heard, std::vector{strange}), heard);
    EXPECT_EQ(corrected(heard, {}), heard);
    const std::vector once{said(splitNote, Kind::split)};
    EXPECT_EQ(corrected(corrected(heard, once), once), corrected(heard, once));
}

TEST(Corrections, ACrackedNoteABreathAndOtherValvesAreReportsOfTheirOwn) {
    Performance heard = faulty();
    heard.notes[5].split = true;
    heard.notes[5].crackedMs = 60.0;
    heard.notes[5].crackedThrough = 70;
    heard.notes[5].breathBefore = heard.notes[5].valvesWrong = true;
    heard.extras.push_back({*heard.notes[5].onsetSeconds, *heard.notes[5].onsetSeconds + 0.06, 70, 5});
    countNotes(heard.segments[0], heard.notes, static_cast<int>(heard.extras.size()));
    const auto reports = reportsOf(heard);
    for (const Kind kind : {Kind::cracked, Kind::breath, Kind::valves})
        EXPECT_EQ(std::ranges::count(reports, NoteReport{5, kind}), 1) << inWords(kind);
    EXPECT_EQ(std::ranges::count(reports, 5, &NoteReport::note), 3) << "its other sound is no extra note";

    const Performance uncracked = corrected(heard, std::vector{said(5, Kind::cracked)});
    EXPECT_FALSE(uncracked.notes[5].split || uncracked.notes[5].crackedMs);
    EXPECT_EQ(uncracked.notes[5].crackedThrough, -1);
    EXPECT_EQ(uncracked.segments[0].extra, heard.segments[0].extra - 1);
    EXPECT_TRUE(uncracked.notes[5].breathBefore && uncracked.notes[5].valvesWrong);
    const Performance rest = corrected(heard, std::vector{said(5, Kind::breath), said(5, Kind::valves)});
    EXPECT_FALSE(rest.notes[5].breathBefore || rest.notes[5].valvesWrong);
    EXPECT_EQ(rest.segments[0].breaths, 0);
    EXPECT_TRUE(rest.notes[5].crackedMs);
}

TEST(Corrections, TheValvesOfAWrongNoteAreNoReportBesideIt) {
    Performance heard = faulty();
    heard.notes[wrongNote].valvesWrong = true;
    EXPECT_EQ(reportsOf(heard), reportsOf(faulty()));
    EXPECT_EQ(corrected(heard, std::vector{said(wrongNote, Kind::valves)}), heard);
    const Performance taken = corrected(heard, std::vector{said(wrongNote, Kind::wrong)});
    EXPECT_FALSE(taken.notes[wrongNote].valvesWrong);
}

TEST(Corrections, ASegmentIsCountedByItsOwnNotes) {
    const Score two = ladder(60, [] {
        Drill drill = oneSegment(Segment{});
        drill.segments.push_back(drill.segments.front());
        return drill;
    }());
    std::mt19937 random(1);
    auto notes = play(two, {}, random);
    const auto second = static_cast<std::size_t>(two.spans.at(1).firstNote);
    notes[1].pitch += 1;
    notes[second + 1].pitch += 1;
    const Performance heard = listen(two, notes);
    ASSERT_EQ(heard.segments.size(), 2U);
    const Performance taken = corrected(heard, std::vector{said(second + 1, Kind::wrong)});
    EXPECT_EQ(taken.segments[0], heard.segments[0]);
    EXPECT_TRUE(taken.segments[1].clean);
    EXPECT_FALSE(taken.clean());
}

TEST(Corrections, OfATakeThatWasNotHeardAtAllMakeItPlayed) {
    const Performance heard = listen(score(), {});
    std::vector<Correction> all;
    for (const NoteReport& report : reportsOf(heard))
        all.push_back({report, 1});
    ASSERT_EQ(all.size(), score().notes.size());
    const Performance taken = corrected(heard, all);
    EXPECT_TRUE(taken.segments[0].played);
    EXPECT_TRUE(taken.clean());
}

TEST(Corrections, TallyCountsReportsAndWhatPlayersSayByKind) {
    const Performance heard = faulty();
    CorrectionTally tally;
    tally.add(heard, std::vector{said(splitNote, Kind::split), said(splitNote, Kind::wrong)});
    tally.add(heard, {});
    EXPECT_EQ(tally.takes, 2);
    EXPECT_EQ(tally.correctedTakes, 1);
    EXPECT_EQ(tally.all().reported, 8);
    EXPECT_EQ(tally.all().right, 1) << "a kind that was not reported does not count";
    EXPECT_EQ(tally.of(Kind::split).reported, 2);
    EXPECT_EQ(tally.of(Kind::split).right, 1);
    EXPECT_DOUBLE_EQ(tally.falseIn200(), 200.0 / (2.0 * static_cast<double>(heard.notes.size())));
    EXPECT_EQ(CorrectionTally().falseIn200(), 0.0);
}

} // namespace valveladder
