#include "Records/Fields.h"
#include "Screen/InventedLog.h"
#include "Screen/Within.h"
#include "Tempo/PlanSupport.h"
#include "View/History.h"
#include "View/LocalTime.h"
#include "View/LogReader.h"
#include "View/PlayModel.h"
#include "View/Preferences.h"
#include "View/Shelf.h"
#include "View/SideModel.h"
#include "View/SmoothClock.h"
#include "View/TapTempo.h"
#include "View/Words.h"

#include <chrono>
#include <fstream>
#include <gtest/gtest.h>

namespace valveladder {

namespace {

using pictures::InventedLog;
using pictures::runningView;

} // namespace

TEST(SmoothClock, RunsOnEvenlyBetweenLongBlocksAndNeverBack) {
    SmoothClock clock;
    constexpr double bpm = 120.0;
    constexpr double block = 0.08; // seconds, 4096 samples at 48 kHz and a bit
    double last = -1.0;
    for (int frame = 0; frame < 600; ++frame) {
        const double now = frame / 60.0;
        const double reported = std::floor(now / block) * block * bpm / 60.0;
        const double shown = clock.at(reported, bpm, now);
        EXPECT_GE(shown, last);
        EXPECT_NEAR(shown, now * bpm / 60.0, 0.08);
        last = shown;
    }
}

TEST(SmoothClock, FollowsAJumpAtOnce) {
    SmoothClock clock;
    (void)clock.at(10.0, 120.0, 1.0);
    EXPECT_DOUBLE_EQ(clock.at(2.0, 120.0, 1.02), 2.0);
    EXPECT_DOUBLE_EQ(clock.at(40.0, 120.0, 1.04), 40.0);
}

TEST(SmoothClock, StandsWhenTheHostStopsReporting) {
    SmoothClock clock;
    (void)clock.at(1.0, 60.0, 0.0);
    EXPECT_DOUBLE_EQ(clock.at(1.0, 60.0, 5.0), 1.0 + SmoothClock::farthestSeconds);
}

TEST(TapTempo, OneSlipDoesNotCount) {
    TapTempo tap;
    std::optional<double> bpm;
    for (const double at : {0.0, 1.0, 2.0, 3.2, 4.0, 5.0, 6.0})
        bpm = tap.tap(at);
    ASSERT_TRUE(bpm);
    EXPECT_NEAR(*bpm, 60.0, 0.5);
}

TEST(TapTempo, NeedsThreeTapsAndBeginsAnewAfterAPause) {
    TapTempo tap;
    EXPECT_FALSE(tap.tap(0.0));
    EXPECT_FALSE(tap.tap(0.5));
    EXPECT_TRUE(tap.tap(1.0));
    EXPECT_FALSE(tap.tap(9.0));
}

TEST(History, UndoAndRedoWalkBothWaysAndANewChangeForgetsWhatWasTakenBack) {
    History<int> history;
    history.changed(1); // 1 -> 2
    history.changed(2); // 2 -> 3
    ASSERT_NE(history.next(false), nullptr);
    EXPECT_EQ(*history.next(false), 2);
    EXPECT_EQ(history.next(true), nullptr);
    EXPECT_EQ(history.undo(3), 2);
    EXPECT_EQ(history.undo(2), 1);
    EXPECT_EQ(history.undo(1), std::nullopt);
    EXPECT_EQ(history.redo(1), 2);
    history.changed(2); // 2 -> 9
    EXPECT_FALSE(history.canRedo());
    EXPECT_EQ(history.undo(9), 2);
}

TEST(Notice, NobodyNeedHaveBeenHeardInTheCountInNorInTheFirstNotes) {
    const SessionView view = runningView("trumpet-b-flat");
    const Score& score = view.setup->score();
    ClockReading clock{.ppq = 0.5, .startPpq = 4.0, .playing = true};
    EXPECT_TRUE(hardlyBegun(score, clock, false)) << "before the drill's bar";
    clock.ppq = 4.0 + static_cast<double>(score.countInTicks) / ticksPerQuarter;
    EXPECT_TRUE(hardlyBegun(score, clock, false)) << "at the first note";
    clock.ppq = 4.0 + static_cast<double>(score.notes[7].onset) / ticksPerQuarter + 0.01;
    EXPECT_FALSE(hardlyBegun(score, clock, false)) << "at the eighth";
    clock.ppq = 4.0 + static_cast<double>(score.length) / ticksPerQuarter + 1.0;
    EXPECT_FALSE(hardlyBegun(score, clock, false)) << "behind its end";
    clock.playing = false;
    EXPECT_TRUE(hardlyBegun(score, clock, false));
}

TEST(Notice, TheGravestIsSaidAlone) {
    SessionView view = runningView("trumpet-b-flat");
    using enum Notice::Kind;
    EXPECT_EQ(noticeFor(view, InputSeen::something).kind, none);
    EXPECT_EQ(noticeFor(view, InputSeen::nothing).kind, noInput);
    EXPECT_EQ(noticeFor(view, InputSeen::unknown).kind, none);
    view.mismatch = "The host is at 72, this take is planned at 66";
    EXPECT_EQ(noticeFor(view, InputSeen::nothing).kind, wrongTempo);
    view.logTrouble = Problem{"the disk is full", "log.sqlite", "free some room"};
    const Notice worst = noticeFor(view, InputSeen::nothing);
    EXPECT_EQ(worst.kind, logTrouble);
    EXPECT_TRUE(worst.trouble);
    EXPECT_NE(worst.words.find("none is lost"), std::string::npos);
}

TEST(Notice, AStandingHostAndNoClockAreToldApart) {
    SessionView view = runningView("trumpet-b-flat");
    view.clock = Clock::none;
    EXPECT_EQ(noticeFor(view, InputSeen::unknown).kind, Notice::Kind::noClock);
    view.clock = Clock::host;
    view.playing = false;
    EXPECT_EQ(noticeFor(view, InputSeen::unknown).kind, Notice::Kind::hostStands);
}

TEST(PlayModel, CountsInAndCountsDownToTheEntry) {
    const SessionView view = runningView("trumpet-b-flat");
    const auto at = [&](double quarters) {
        ClockReading clock;
        clock.playing = true;
        clock.ppq = quarters;
        return playModel(view, clock, true, InputSeen::something);
    };
    EXPECT_EQ(at(0.1).countIn, 1);
    EXPECT_EQ(at(0.1).beatsToEntry, 4);
    EXPECT_EQ(at(3.5).countIn, 4);
    EXPECT_EQ(at(3.5).beatsToEntry, 1);
    EXPECT_EQ(at(4.1).countIn, 0);
    EXPECT_EQ(at(4.1).beatsToEntry, 0);
    EXPECT_EQ(at(4.6).note, 1U);
    // Thirteen eighths, then a rest to the bar after next: the second segment begins at quarter 16.
    EXPECT_EQ(at(12.5).note, 13U);
    EXPECT_EQ(at(12.5).beatsToEntry, 4);
}

TEST(Shelf, KeepsByNameAndRefusesNamesThatAreNoFiles) {
    const host::TempLog place;
    const Shelf shelf(place.folder() / "set-ups");
    EXPECT_TRUE(shelf.names().empty());
    EXPECT_TRUE(shelf.keep("Morning", "one"));
    EXPECT_TRUE(shelf.keep("Evening", "two"));
    EXPECT_TRUE(shelf.keep("Morning", "three"));
    EXPECT_EQ(shelf.names(), (std::vector<std::string>{"Evening", "Morning"}));
    EXPECT_EQ(shelf.text("Morning").value(), "three");
    for (const char* bad : {"", "../up", "a/b", ".hidden", "a\nb"})
        EXPECT_FALSE(shelf.keep(bad, "x")) << bad;
    EXPECT_FALSE(shelf.text("none"));
}

TEST(Preferences, SurviveWritingAndRubbish) {
    const host::TempLog place;
    const auto path = place.folder() / "screen.json";
    const Preferences wanted{false, 150, true, Spelling::german, true, true};
    ASSERT_TRUE(writePreferences(path, wanted));
    EXPECT_EQ(readPreferences(path), wanted);
    std::ofstream(path) << "{\"dark\": 7, \"scalePercent\": 9000, \"spelling\": -3";
    EXPECT_EQ(readPreferences(path), Preferences{});
    std::ofstream(path) << "{\"dark\": 7, \"scalePercent\": 9000, \"spelling\": -3}";
    EXPECT_EQ(readPreferences(path).scalePercent, 300);
    EXPECT_FALSE(readPreferences(path).spelling);
    EXPECT_EQ(readPreferences(place.folder() / "none.json"), Preferences{});
}

TEST(ResultModel, EachThingThatIsToldOfANoteHasASignAndIsInItsWords) {
    const InventedLog invented;
    const auto take = pictures::takeWithEverySign(invented);
    const auto& notes = take->model.notes;
    using Kind = NoteSign::Kind;
    const std::vector<Kind> kinds{Kind::right, Kind::wrong, Kind::missed,   Kind::split, Kind::late,
                                  Kind::early, Kind::right, Kind::right,    Kind::right, Kind::right,
                                  Kind::right, Kind::right, Kind::saidRight};
    const std::vector<std::vector<NoteAside>> asides{
        {},
        {},
        {},
        {},
        {},
        {},
        {NoteAside::breath},
        {},
        {NoteAside::extra},
        {NoteAside::valves},
        {NoteAside::lateFinger},
        {NoteAside::breath, NoteAside::extra, NoteAside::valves, NoteAside::lateFinger},
        {}};
    for (std::size_t i = 0; i < kinds.size(); ++i) {
        EXPECT_EQ(signOf(notes[i]).kind, kinds[i]) << i;
        EXPECT_EQ(asidesOf(notes[i]), asides[i]) << i;
    }
    const auto told = [&](std::size_t note) { return words::noteResult(notes[note], {}); };
    EXPECT_NE(told(6).find("after a breath"), std::string::npos) << told(6);
    EXPECT_NE(told(8).find("with a note beside it"), std::string::npos) << told(8);
    EXPECT_NE(told(9).find("with other valves"), std::string::npos) << told(9);
    EXPECT_NE(told(10).find("finger 3 after 1-2 by 42 ms"), std::string::npos) << told(10);
}

namespace {

const std::vector<std::string> claims{
    "Your third finger goes down 38 ms late. Sure: 21 to 55 ms (112 changes)."};

/// The newest take as it would be, had it been so.
TakeModel takeThat(bool whole, bool passed, Outcome third, bool breath = false) {
    const InventedLog invented;
    LoadedTake take = loadTake(invented.log(), invented.newestTake());
    for (NoteResult& note : take.record.performance.notes) {
        note.outcome = Outcome::right;
        note.breathBefore = false;
    }
    take.record.performance.extras.clear();
    for (SegmentResult& segment : take.record.performance.segments)
        segment.wrong = segment.missed = segment.extra = segment.breaths = 0;
    take.record.performance.notes[2].outcome = third;
    take.record.performance.notes[2].breathBefore = breath;
    take.record.performance.segments.front().breaths = breath ? 1 : 0;
    take.record.performance.segments.front().missed = third == Outcome::missed ? 1 : 0;
    take.record.state = whole ? TakeState::whole : TakeState::cutShort;
    take.record.passed = passed;
    return takeModel(take.record, take.logged.score, take.logged.instrument);
}

} // namespace

TEST(WindowWords, WhatKeptATakeFromPassingLeadsItsResult) {
    const ResultWords failed = resultWords(takeThat(true, false, Outcome::missed), claims);
    EXPECT_TRUE(failed.sentence.starts_with("One note went wrong, in ")) << failed.sentence;
    EXPECT_NE(failed.verdict.find("not passed. Over all takes: your third finger goes down 38 ms late."),
              std::string::npos)
        << failed.verdict;
    const ResultWords uneven = resultWords(takeThat(true, false, Outcome::right), claims);
    EXPECT_EQ(uneven.sentence, words::tooUneven);
    const ResultWords passed = resultWords(takeThat(true, true, Outcome::right), claims);
    EXPECT_EQ(passed.sentence, "Your third finger goes down 38 ms late.");
    EXPECT_TRUE(passed.verdict.starts_with("Found over all takes. This one: ")) << passed.verdict;
    const ResultWords stopped = resultWords(takeThat(false, false, Outcome::right), claims);
    EXPECT_EQ(stopped.sentence, passed.sentence) << "nothing went wrong in it";
}

TEST(WindowWords, OneWrongNoteIsSaidToBeWhereItIsAndNotWhereTheBreathsAre) {
    TakeModel take = takeThat(true, false, Outcome::missed); // in the first segment
    ASSERT_GT(take.rungs.front().cells.size(), 1u);
    take.rungs.front().cells[1].faults = 5;
    EXPECT_EQ(resultWords(take, {}).sentence,
              "One note went wrong, in " + take.segmentNames[0] + ", " + take.rungs[0].label + ".");
}

TEST(WindowWords, MostOfTheFaultsIsSaidOfMoreThanHalfAlone) {
    TakeModel take = takeThat(true, false, Outcome::right);
    const auto miss = [&take](int segment, int notes) {
        for (NoteModel& note : take.notes)
            if (notes > 0 && note.rung == 0 && note.segment == segment && note.outcome == Outcome::right) {
                note.outcome = Outcome::missed;
                --notes;
            }
        EXPECT_EQ(notes, 0);
    };
    for (int segment = 0; segment < 3; ++segment)
        miss(segment, 1);
    EXPECT_EQ(resultWords(take, {}).sentence, "3 notes went wrong.");
    miss(1, 1);
    EXPECT_EQ(resultWords(take, {}).sentence, "4 notes went wrong.") << "half is not most";
    miss(1, 1);
    EXPECT_EQ(resultWords(take, {}).sentence, "5 notes went wrong, most of them in " + take.segmentNames[1] +
                                                  ", " + take.rungs[0].label + ".");
}

TEST(WindowWords, ATakeOfWhichNothingWasMeasuredIsCalledAlikeInTheListAndAboveIt) {
    TakeRecord take;
    take.playedBpm = 64.0;
    take.header.plannedBpm = 66.0;
    EXPECT_EQ(words::takeHeading(take), "64 bpm (planned 66), kept, not measured");
    EXPECT_EQ(words::takeLine(summaryOf(take)).verdict, "kept, not measured");
    EXPECT_EQ(words::takeLine(summaryOf(take)).tempo, "64 (planned 66)");
    take.state = TakeState::cutShort;
    EXPECT_EQ(words::takeHeading(take), "64 bpm (planned 66), cut short");
    take.state = TakeState::whole;
    take.performance.notes.emplace_back();
    EXPECT_EQ(words::takeHeading(take), "64 bpm (planned 66), not passed");
}

TEST(WindowWords, OneIsNotSeveral) {
    EXPECT_EQ(words::graphSummary({5.0}, false), "1 note: median 5 ms, from 5 to 5");
    EXPECT_EQ(words::beatsToEntry(1), "1 beat to go");
    EXPECT_EQ(words::dayChoice("4 Mar", 1), "4 Mar, 1 take");
    EXPECT_EQ(words::whiskerWords("3 pressing", {40.0, 30.0, 50.0, 1}, false),
              "3 pressing: 40 ms, 90 % interval 30 to 50, 1 change");
}

TEST(WindowWords, ABreathThatKeptATakeFromPassingLeadsItsResult) {
    const TakeModel take = takeThat(true, false, Outcome::right, true);
    EXPECT_NE(resultWords(take, {}).sentence.find(" right, 1 breath."), std::string::npos) << take.counts;
}

TEST(WindowWords, IntervalsAndCountsStandInDetails) {
    for (const bool passed : {true, false}) {
        const ResultWords result =
            resultWords(takeThat(true, passed, passed ? Outcome::right : Outcome::missed), claims);
        for (const char* figure : {"Sure", " to ", " of "})
            EXPECT_EQ((result.sentence + result.verdict).find(figure), std::string::npos) << result.verdict;
        for (const char* figure : {"Sure: 21 to 55 ms (112 changes). This take: ", " right"})
            EXPECT_NE(result.details.find(figure), std::string::npos) << result.details;
    }
}

TEST(LogReader, GivesTakesFromItsOwnThread) {
    const InventedLog invented;
    LogReader reader(invented.log().path());
    EXPECT_EQ(reader.take(invented.newestTake()), nullptr);
    reader.wantTake(invented.newestTake());
    ASSERT_TRUE(eventually([&] { return reader.take(invented.newestTake()) != nullptr; }));
    EXPECT_EQ(reader.take(invented.newestTake())->model.notes.size(),
              reader.take(invented.newestTake())->logged.score.notes.size());
}

TEST(LogReader, ALogThatIsNotThereIsATakeWithTrouble) {
    const host::TempLog place;
    LogReader reader(place.log());
    reader.wantTake("unknown");
    ASSERT_TRUE(eventually([&] { return reader.take("unknown") != nullptr; }));
    EXPECT_TRUE(reader.take("unknown")->trouble);
}

TEST(Overview, HoldsTakesDaysAndTheNextSessionOfAReview) {
    const InventedLog invented;
    const auto overview = invented.overview();
    EXPECT_EQ(overview->takes.size(), 36U);
    EXPECT_EQ(overview->stair.takes, 36);
    EXPECT_EQ(overview->stair.days.size(), 12U);
    EXPECT_TRUE(overview->next);
    EXPECT_FALSE(overview->trouble);
}

TEST(Overview, OfAReviewThatFailedSaysWhy) {
    const Overview overview = overviewOf(
        Problem{"the log is locked", "log.sqlite", "close the other program"}, catalogue().front());
    EXPECT_TRUE(overview.takes.empty());
    ASSERT_TRUE(overview.trouble);
    EXPECT_NE(overview.trouble->text().find("the log is locked"), std::string::npos);
}

TEST(StairModel, TheThirdFingersPlantedWeaknessIsTheSlowestWhisker) {
    const InventedLog invented;
    const auto made = invented.overview();
    const StairModel& stair = made->stair;
    const auto slowest = std::max_element(
        stair.fingers.begin(), stair.fingers.end(),
        [](const WhiskerModel& a, const WhiskerModel& b) { return a.ms.value < b.ms.value; });
    ASSERT_NE(slowest, stair.fingers.end());
    EXPECT_EQ(slowest->finger, 3);
    for (const WhiskerModel& whisker : stair.fingers) {
        EXPECT_LE(whisker.ms.low, whisker.ms.value);
        EXPECT_GE(whisker.ms.high, whisker.ms.value);
        EXPECT_GT(whisker.ms.n, 0);
    }
}

TEST(SideModel, ADayOffersItselfAndItsTakesAndADayIsTheMeanOfThem) {
    const InventedLog invented;
    const auto choices = invented.overview()->sides;
    ASSERT_EQ(choices.size(), 12U + 36U);
    LoadedTakes day;
    for (const std::string& id : choices.front().takeIds)
        day.push_back(std::make_shared<LoadedTake>(loadTake(invented.log(), id)));
    ASSERT_EQ(day.size(), 3U);
    auto& played = *std::const_pointer_cast<LoadedTake>(day[1]);
    played.model.notes[5].outcome = played.record.performance.notes[5].outcome = Outcome::wrong;
    const TakeModel mean = meanModel(day);
    int wrong = 0;
    for (std::size_t i = 0; i < mean.notes.size(); ++i) {
        double sum = 0.0;
        int n = 0;
        for (const auto& take : day) {
            const NoteModel& note = take->model.notes[i];
            wrong += note.outcome == Outcome::wrong ? 1 : 0;
            if (note.deviationMs && note.outcome == Outcome::right) {
                sum += *note.deviationMs;
                ++n;
            }
        }
        ASSERT_EQ(mean.notes[i].deviationMs.has_value(), n > 0) << i;
        if (n > 0) {
            EXPECT_NEAR(*mean.notes[i].deviationMs, sum / n, 1e-9) << i;
        }
    }
    EXPECT_GT(wrong, 0) << "the lateness of wrong notes counts here no more than in what is said beside it";
}

TEST(SideModel, ADayHasItsOwnDateAndNotThatOfATakeAfterMidnight) {
    TempoRules late;
    late.timeZone = "Etc/UTC";
    late.dayStartsAtHour = 4;
    std::vector<DatedTake> takes(2);
    for (int i = 0; i < 2; ++i) {
        TakeSummary& take = takes[static_cast<std::size_t>(i)].take;
        take.header.id = std::to_string(i);
        take.header.startedUtc = plansupport::utc(2024, 3, 5, 1, i);
        take.expected = 8;
        takes[static_cast<std::size_t>(i)].day = practiceDay(late, take.header.startedUtc);
    }
    const std::string wanted = words::dayChoice("4 Mar", 2);
    for (const char* zone : {"Etc/UTC", "Pacific/Auckland", "Pacific/Pago_Pago"}) {
        const plansupport::ZoneOfMachine machine(zone);
        EXPECT_EQ(words::dayOf(takes.front().day), "4 Mar") << zone;
        EXPECT_EQ(sideChoices(takes).front().label, wanted) << zone;
    }
}

TEST(LocalTime, OfATakeIsThatOfWhereItWasPlayedWhateverTheMachinesZone) {
    const UtcMs midnight = plansupport::utc(2024, 3, 5, 0, 7);
    const plansupport::ZoneOfMachine machine("Pacific/Auckland"); // 13 hours ahead of UTC in March
    EXPECT_EQ(words::timeOf(midnight, "America/New_York"), "4 Mar  19:07");
    EXPECT_EQ(words::timeOf(midnight, "Etc/UTC"), "5 Mar  00:07");
    for (const char* unknown : {"", "Nowhere/Atall"})
        EXPECT_EQ(words::timeOf(midnight, unknown), "5 Mar  13:07") << unknown;
}

TEST(SideModel, OtherNotesCannotBeLaidSideBySide) {
    const InventedLog invented;
    auto first = std::make_shared<LoadedTake>(loadTake(invented.log(), invented.newestTake()));
    auto second = std::make_shared<LoadedTake>(*first);
    EXPECT_FALSE(sideWords({first}, {second}).empty());
    second->logged.score.notes.pop_back();
    EXPECT_NE(sideWords({first}, {second}).front().find("other notes"), std::string::npos);
}

} // namespace valveladder
