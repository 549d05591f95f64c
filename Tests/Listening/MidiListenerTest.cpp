#include "Listening/MidiListener.h"
#include "MidiListenerPlayers.h"
#include "Words/RemarkWords.h"

#include <chrono>
#include <limits>

namespace valveladder {

namespace {

using namespace test;

std::mt19937 generator(unsigned seed = 1) {
    return std::mt19937(seed);
}

std::vector<PlayedNote> plain(const Score& score, const Style& style = {}) {
    auto random = generator();
    return play(score, style, random);
}

bool remarked(const Performance& performance, const std::string& part) {
    return std::ranges::any_of(inWords(performance.remarks), [&](const std::string& remark) {
        return remark.find(part) != std::string::npos;
    });
}

MidiTake takeOf(std::vector<PlayedNote> notes) {
    MidiTake take;
    take.notes = std::move(notes);
    return take;
}

} // namespace

TEST(MidiListener, PlayedAsWrittenIsCleanAndEveryOnsetIsExact) {
    const Score score = ladder(66);
    const Performance p = listen(score, plain(score));
    ASSERT_EQ(p.notes.size(), score.notes.size());
    EXPECT_TRUE(p.clean());
    EXPECT_EQ(p.source, Source::midi);
    for (const NoteResult& note : p.notes) {
        EXPECT_EQ(note.outcome, Outcome::right);
        EXPECT_NEAR(*note.onsetSeconds,
                    secondsOf(score, score.notes[static_cast<std::size_t>(note.index)].onset), 1e-9);
        EXPECT_NEAR(*note.rawDeviationMs, 0.0, 1e-6);
        EXPECT_FALSE(note.split || note.breathBefore || note.valvesWrong);
    }
    EXPECT_TRUE(p.extras.empty());
    EXPECT_TRUE(p.remarks.empty());
}

TEST(MidiListener, SilenceIsEveryNoteMissed) {
    const Score score = ladder(66);
    const Performance p = listen(score, {});
    EXPECT_EQ(p.count(Outcome::missed), static_cast<int>(score.notes.size()));
    EXPECT_FALSE(p.clean());
    EXPECT_FALSE(p.asynchronyMs);
    EXPECT_TRUE(remarked(p, "segments not played"));
}

TEST(MidiListener, AnEmptyScoreHearsNothing) {
    const Performance p = listenToMidi(Score{}, TempoMap(60), takeOf(plain(ladder(60))));
    EXPECT_TRUE(p.notes.empty());
    EXPECT_FALSE(p.clean());
}

TEST(MidiListener, RoundTripIsSubtractedFromNotes) {
    const Score score = ladder(66);
    const Performance p = listenToMidi(score, TempoMap(66), takeOf(plain(score, {.lateMs = 30})), 25.0);
    EXPECT_NEAR(p.asynchronyMs->value, 5.0, 1e-6);
}

TEST(MidiListener, OnlyNotesWithinTheTakesWindowAreExpected) {
    const Score score = ladder(66);
    const ScoreSpan& second = score.spans[1];
    MidiTake take = takeOf(plain(score));
    take.span.fromSeconds = secondsOf(score, second.start) - 0.01;
    take.span.toSeconds = secondsOf(score, second.end);
    const Performance p = listenToMidi(score, TempoMap(66), take);
    ASSERT_EQ(static_cast<int>(p.notes.size()), second.noteCount);
    EXPECT_EQ(p.notes.front().index, second.firstNote);
    ASSERT_EQ(p.segments.size(), 1U);
    EXPECT_EQ(p.segments.front().span, 1);
    EXPECT_TRUE(p.clean());
}

TEST(MidiListener, AHundredMillisecondsEarlyOrLateIsAsynchronyAlone) {
    for (const double bpm : {40.0, 110.0, 220.0})
        for (const double late : {-100.0, 100.0}) {
            Drill drill = defaultDrill(trumpet());
            drill.noteTicks = ticksPerQuarter / 4;
            const Score score = ladder(bpm, drill);
            const Performance p = listen(score, plain(score, {.lateMs = late}));
            EXPECT_TRUE(p.clean()) << bpm << ", " << late;
            EXPECT_NEAR(p.asynchronyMs->value, late, 1e-6);
        }
}

TEST(MidiListener, AWholeSegmentEnteredABeatEarlyIsStillThatSegment) {
    const Score score = ladder(80);
    auto notes = plain(score);
    const ScoreSpan& span = score.spans[2];
    for (int i = span.firstNote; i < span.firstNote + span.noteCount; ++i) {
        notes[static_cast<std::size_t>(i)].onset -= 0.75;
        notes[static_cast<std::size_t>(i)].offset -= 0.75;
    }
    const Performance p = listen(score, notes);
    EXPECT_TRUE(p.clean());
    EXPECT_NEAR(p.segments[2].asynchronyMs->value, -750.0, 1e-6);
    EXPECT_NEAR(p.segments[2].onsetSpreadMs->value, 0.0, 1e-6);
}

TEST(MidiListener, AMissedSegmentLeavesTheOthersWhole) {
    for (const bool withRests : {true, false}) {
        Drill drill = defaultDrill(trumpet());
        if (!withRests)
            drill.rest = {0.0, Rest::Unit::beats, false};
        const Score score = ladder(160, drill);
        for (const int missing : {0, 1, 5, 11}) {
            auto notes = plain(score, {.lateMs = 40, .jitterMs = 10});
            const ScoreSpan& span = score.spans[static_cast<std::size_t>(missing)];
            notes.erase(notes.begin() + span.firstNote, notes.begin() + span.firstNote + span.noteCount);
            const Performance p = listen(score, notes);
            for (const SegmentResult& segment : p.segments) {
                EXPECT_EQ(segment.played, segment.span != missing) << missing << withRests;
                EXPECT_EQ(segment.clean, segment.span != missing) << missing << withRests;
            }
            EXPECT_TRUE(p.extras.empty());
        }
    }
}

TEST(MidiListener, AWrongNoteIsNamedWithWhatWasPlayed) {
    const Score score = ladder(100);
    auto notes = plain(score);
    notes[4].pitch += 1;
    const Performance p = listen(score, notes);
    EXPECT_EQ(p.count(Outcome::wrong), 1);
    EXPECT_EQ(p.notes[4].outcome, Outcome::wrong);
    EXPECT_EQ(p.notes[4].played, score.notes[4].sounding + 1);
    EXPECT_TRUE(p.extras.empty());
    EXPECT_EQ(p.segments[0].wrong, 1);
    EXPECT_FALSE(p.segments[0].clean);
    EXPECT_TRUE(p.segments[1].clean);
}

TEST(MidiListener, SkippedNotesAreMissedAndTheRestStaysRight) {
    const Score score = ladder(100);
    auto notes = plain(score);
    notes.erase(notes.begin() + 9, notes.begin() + 11);
    const Performance p = listen(score, notes);
    EXPECT_EQ(p.count(Outcome::missed), 2);
    EXPECT_EQ(p.notes[9].outcome, Outcome::missed);
    EXPECT_EQ(p.notes[10].outcome, Outcome::missed);
    EXPECT_EQ(p.count(Outcome::wrong), 0);
    EXPECT_TRUE(p.extras.empty());
}

TEST(MidiListener, ARepeatedNoteIsSplitAndExtra) {
    const Score score = ladder(100);
    auto notes = plain(score);
    PlayedNote again = notes[3];
    again.onset += 0.15;
    notes[3].offset = again.onset;
    notes.push_back(again);
    const Performance p = listen(score, notes);
    EXPECT_EQ(p.count(Outcome::right), static_cast<int>(score.notes.size()));
    ASSERT_EQ(p.extras.size(), 1U);
    EXPECT_EQ(p.extras[0].nearIndex, 3);
    EXPECT_TRUE(p.notes[3].split);
    EXPECT_NEAR(*p.notes[3].rawDeviationMs, 0.0, 1e-6);
}

TEST(MidiListener, ANoteThatSpeaksThroughAnotherPitchIsSplit) {
    const Score score = ladder(100);
    auto notes = plain(score);
    PlayedNote blip = notes[3];
    blip.pitch += 5;
    blip.offset = blip.onset + 0.03;
    notes[3].onset = blip.offset;
    notes.push_back(blip);
    const Performance p = listen(score, notes);
    EXPECT_EQ(p.notes[3].outcome, Outcome::right);
    EXPECT_TRUE(p.notes[3].split);
    ASSERT_EQ(p.extras.size(), 1U);
    EXPECT_EQ(p.extras[0].nearIndex, 3);
    EXPECT_NEAR(*p.notes[3].rawDeviationMs, 30.0, 1e-6);
}

TEST(MidiListener, OfASegmentBegunAgainTheLastTryCounts) {
    // Four notes, then the segment again from its first note, in its time plus a beat; the rest as written.
    const Score score = ladder(60);
    auto notes = plain(score);
    const ScoreSpan& span = score.spans[1];
    std::vector<PlayedNote> played(notes.begin(), notes.begin() + span.firstNote + 4);
    const double again = played.back().offset + 0.3 - notes[static_cast<std::size_t>(span.firstNote)].onset;
    for (int i = span.firstNote; i < span.firstNote + span.noteCount; ++i) {
        PlayedNote note = notes[static_cast<std::size_t>(i)];
        note.onset += again;
        note.offset += again;
        played.push_back(note);
    }
    played.insert(played.end(), notes.begin() + span.firstNote + span.noteCount, notes.end());
    const Performance p = listen(score, played);
    EXPECT_EQ(p.count(Outcome::right), static_cast<int>(score.notes.size()));
    EXPECT_TRUE(p.extras.empty());
    EXPECT_NEAR(p.segments[1].onsetSpreadMs->value, 0.0, 1e-6); // measured on the second try alone
    EXPECT_TRUE(p.clean());
    for (const SegmentResult& segment : p.segments)
        EXPECT_EQ(segment.earlierTries, segment.span == 1 ? 1 : 0);
}

TEST(MidiListener, AChordIsItsRightNoteAndExtras) {
    const Score score = ladder(90);
    auto notes = plain(score);
    for (const int away : {-7, 4}) {
        PlayedNote mate = notes[5];
        mate.pitch += away;
        notes.push_back(mate);
    }
    const Performance p = listen(score, notes);
    EXPECT_EQ(p.count(Outcome::right), static_cast<int>(score.notes.size()));
    EXPECT_EQ(p.extras.size(), 2U);
    EXPECT_FALSE(p.notes[5].split);
    EXPECT_FALSE(p.notes[6].split);
}

TEST(MidiListener, OverlappingLegatoIsClean) {
    const Score score = ladder(90);
    const Performance p = listen(score, plain(score, {.overlapMs = 120}));
    EXPECT_TRUE(p.clean());
}

TEST(MidiListener, AControllerAnOctaveOffIsJudgedInItsOctaveAndSaid) {
    const Score score = ladder(90);
    for (const int shift : {-24, -12, 12, 24}) {
        auto notes = plain(score);
        for (PlayedNote& note : notes)
            note.pitch += shift;
        const Performance p = listen(score, notes);
        EXPECT_TRUE(p.clean()) << shift;
        EXPECT_TRUE(remarked(p, "set the controller's octave")) << shift;
        EXPECT_EQ(p.notes[0].played, score.notes[0].sounding + shift);
    }
}

TEST(MidiListener, AControllerAtWrittenPitchIsWrongThroughoutInTimeAndSaid) {
    const Score score = ladder(90);
    for (const int shift : {-7, -2, -1, 1, 2, 5}) {
        auto notes = plain(score, {.lateMs = 20});
        for (PlayedNote& note : notes)
            note.pitch += shift;
        const Performance p = listen(score, notes);
        EXPECT_EQ(p.count(Outcome::wrong), static_cast<int>(score.notes.size())) << shift;
        EXPECT_TRUE(remarked(p, "transposition")) << shift;
        EXPECT_NEAR(p.asynchronyMs->value, 20.0, 1e-6) << shift;
    }
}

TEST(MidiListener, NotesWithoutLengthAreJudgedButTheirGapsAreNot) {
    const Score score = ladder(90);
    auto notes = plain(score);
    for (PlayedNote& note : notes)
        note.offset = note.onset;
    const Performance p = listen(score, notes);
    EXPECT_TRUE(p.clean());
    EXPECT_TRUE(remarked(p, "without a length"));
    EXPECT_FALSE(p.notes[3].offsetSeconds);
}

TEST(MidiListener, TimesThatMakeNoSenseAreLeftOutAndCounted) {
    const Score score = ladder(90);
    auto notes = plain(score);
    const double nan = std::numeric_limits<double>::quiet_NaN();
    notes.push_back({nan, nan, 60, 64});
    notes.push_back({1e300, 1e301, 60, 64});
    notes.push_back({-std::numeric_limits<double>::infinity(), 0.0, 60, 64});
    notes[0].offset = nan;
    notes[1].offset = -5.0;
    const Performance p = listen(score, notes);
    EXPECT_TRUE(p.clean());
    EXPECT_TRUE(remarked(p, "3 notes were left out"));
    EXPECT_TRUE(remarked(p, "2 notes came without a length"));
}

TEST(MidiListener, TonguedNotesHaveAGapAndSlurredOnesNone) {
    Drill drill = defaultDrill(trumpet());
    drill.segments.resize(2);
    drill.segments[1].slurred = false;
    const Score score = ladder(90, drill);
    auto notes = plain(score);
    const auto tongued = static_cast<std::size_t>(score.spans[1].firstNote);
    notes[tongued].offset = notes[tongued + 1].onset - 0.035;
    notes[tongued + 1].offset = notes[tongued + 2].onset + 0.012;
    const Performance p = listen(score, notes);
    for (const ChangeResult& change : p.changes) {
        EXPECT_EQ(change.slurred, !change.gapMs.has_value());
        EXPECT_FALSE(change.changeoverMs);
        EXPECT_FALSE(change.fromSensors);
        if (change.toIndex == static_cast<int>(tongued) + 1) {
            EXPECT_NEAR(*change.gapMs, 35.0, 1e-6);
        }
        if (change.toIndex == static_cast<int>(tongued) + 2) {
            EXPECT_NEAR(*change.gapMs, -12.0, 1e-6);
        }
    }
    EXPECT_EQ(p.changes.size(), score.notes.size() - score.spans.size());
}

TEST(MidiListener, ABreathInsideASegmentIsFound) {
    const Score score = ladder(60);
    auto notes = plain(score);
    notes[10].offset -= 0.15;
    const Performance p = listen(score, notes);
    EXPECT_TRUE(p.notes[11].breathBefore);
    EXPECT_EQ(p.segments[1].breaths, 1);
    EXPECT_FALSE(p.segments[1].clean);
}

TEST(MidiListener, AnotherPieceIsNotTakenForTheDrill) {
    const Score score = ladder(90);
    auto random = generator(7);
    std::vector<PlayedNote> notes;
    for (double at = 2.0; at < secondsOf(score, score.length); at += 0.11)
        notes.push_back({at, at + 0.1, std::uniform_int_distribution<int>(80, 110)(random), 64});
    const Performance p = listen(score, notes);
    EXPECT_EQ(p.count(Outcome::right), 0);
    EXPECT_FALSE(p.clean());
    EXPECT_FALSE(remarked(p, "set the controller's"));
}

TEST(MidiListener, AFloodOfNotesIsHeardInBoundedTimeAndMemory) {
    const Score score = ladder(90);
    std::vector<PlayedNote> notes;
    for (int i = 0; i < 200000; ++i)
        notes.push_back({i * 1e-4, i * 1e-4 + 0.05, 40 + i % 40, 64});
    const Performance p = listen(score, notes);
    EXPECT_EQ(p.notes.size(), score.notes.size());
    EXPECT_GT(p.extras.size(), 100000U);
}

TEST(MidiListener, SixtyThousandNotesAreHeardExactly) {
    Drill drill = defaultDrill(trumpet());
    drill.noteTicks = ticksPerQuarter / 4;
    drill.repeats = 32;
    drill.pattern = LadderPattern{54, 60, 83, Growth::shift, Shape::upDown};
    drill.segments = std::vector<Segment>(6, drill.segments.front());
    const Score score = ladder(120, drill);
    ASSERT_GT(score.notes.size(), 55000U);
    auto random = generator(3);
    auto notes = play(score, {.lateMs = 60, .jitterMs = 10}, random);
    const auto faults = plant(score, notes, 6, 0.2, random);
    ASSERT_GT(faults.size(), 1000U);
    const auto start = std::chrono::steady_clock::now();
    const Performance p = listen(score, notes);
    const std::chrono::duration<double> took = std::chrono::steady_clock::now() - start;
    std::printf("%zu notes heard in %.2f s\n", score.notes.size(), took.count());
    int wrong = 0;
    int missed = 0;
    int extra = 0;
    for (const auto& [index, fault] : faults) {
        wrong += fault == Fault::wrong;
        missed += fault == Fault::missed;
        extra += fault == Fault::extra || fault == Fault::split;
    }
    EXPECT_EQ(p.count(Outcome::wrong), wrong);
    EXPECT_EQ(p.count(Outcome::missed), missed);
    EXPECT_EQ(static_cast<int>(p.extras.size()), extra);
}

} // namespace valveladder
