#include "Findings/NextSession.h"
#include "Findings/Care.h"
#include "Support/FindingsTrials.h"
#include "Words/CareWords.h"
#include "Words/NextSessionWords.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <limits>
#include <set>

namespace valveladder {
namespace {

using namespace simulated;

const Suspect threePressing{SuspectKind::press, 3, {}, {}, {}};

Weaknesses weakThird() {
    Weaknesses weaknesses;
    Finding finding;
    finding.suspect = threePressing;
    finding.effect = {30.0, 20.0, 40.0, 50};
    finding.takes = 4;
    finding.claimed = true;
    weaknesses.findings.push_back(finding);
    return weaknesses;
}

SessionRequest request(double minutes) {
    SessionRequest asked;
    asked.minutes = minutes;
    asked.bpm = 72.0;
    asked.ladder = defaultDrill(trialInstrument());
    return asked;
}

TEST(NextSession, FillsTheTimeAndNoMore) {
    for (const double minutes : {5.0, 20.0, 45.0, 180.0}) {
        const auto session = planSession(request(minutes), trialInstrument(), weakThird());
        EXPECT_LE(session.minutes, minutes);
        EXPECT_GT(session.minutes, minutes * 0.6);
    }
}

TEST(NextSession, IsAWarmUpAndRoundsOfTheSameFewThings) {
    const auto session = planSession(request(20.0), trialInstrument(), weakThird());
    ASSERT_FALSE(session.items.empty());
    EXPECT_EQ(session.items.front().round, 0);
    EXPECT_NE(whyInWords(session.items.front(), session.instrument).find("warm"), std::string::npos);
    EXPECT_GE(session.rounds, 2);
    EXPECT_GE(session.things, 3);
    EXPECT_LE(session.things, 4);
    int weak = 0, rungs = 0;
    for (const auto& item : session.items) {
        weak += whyInWords(item, session.instrument) == "for your third finger going down" ? 1 : 0;
        rungs += item.isRung && item.round > 0 ? 1 : 0;
    }
    EXPECT_GE(weak, 2 * session.rounds);
    EXPECT_EQ(rungs, session.rounds);
    EXPECT_EQ(std::ranges::count(remarksOn(session), mixingRemark), 1);
    EXPECT_EQ(linesOf(session).size(), static_cast<std::size_t>(session.things) + 1);
}

TEST(NextSession, IsToldInPlainWords) {
    PracticeSession session;
    session.items.resize(2); // the warm-up first
    session.items.back().thing = 3;
    session.items.back().round = 2;
    session.items.back().restSecondsAfter = 300.0;
    session.things = 3;
    session.rounds = 10;
    session.minutes = 18.63;
    session.bpm = 66.0;
    EXPECT_EQ(inWords(session),
              "Warm up, then exercises 1 to 3, ten times through: about 19 minutes with rests, at 66 bpm");
    EXPECT_EQ(linesOf(session).back(), "After exercise 3 the 2nd time, rest 5 min.");
    session.items.back().round = 11;
    EXPECT_EQ(linesOf(session).back(), "After exercise 3 the 11th time, rest 5 min.");
    session.items.clear();
    session.things = 1;
    session.rounds = 1;
    session.minutes = 0.4;
    EXPECT_EQ(inWords(session), "Exercise 1, once: about 1 minute with rests, at 66 bpm");
}

// A leap across partials mixes the lip into what the finger does: it comes only where nothing else will do.
TEST(NextSession, StepwiseCellsComeBeforeLeaps) {
    for (const auto& instrument : catalogue()) {
        const auto limits = usualLimits(instrument, 66.0);
        for (const auto kind : {SuspectKind::press, SuspectKind::release})
            for (int finger = 1; finger <= (instrument.thumbValve ? 3 : instrument.valves); ++finger) {
                const auto cells = cellsFor({kind, finger, {}, {}, {}}, instrument, limits, 2);
                ASSERT_FALSE(cells.empty()) << instrument.id << " " << finger;
                EXPECT_LE(cells.front().notes[1] - cells.front().notes[0], 2)
                    << instrument.id << " " << finger;
                for (const auto& cell : cells)
                    EXPECT_TRUE(isStepwise(cell, instrument)) << instrument.id << " " << finger;
            }
    }
}

TEST(NextSession, LoadsAsADrillThatPlaysTheWeakFingerAndBothFingerings) {
    const auto session = planSession(request(20.0), trialInstrument(), weakThird());
    const auto drill = checked(session.drill, trialInstrument());
    ASSERT_TRUE(drill.ok()) << drill.problem().text();
    bool third = false, fourth = false, oneThree = false;
    for (const auto& change : changesAsked(drill.value(), trialInstrument())) {
        third = third || threePressing.involves(change);
        fourth = fourth || change.change.to == *Combination::parse("4");
        oneThree = oneThree || change.change.to == *Combination::parse("1-3");
    }
    EXPECT_TRUE(third);
    EXPECT_TRUE(fourth);
    EXPECT_TRUE(oneThree);
    for (const auto& item : session.items)
        EXPECT_TRUE(checked(item.drill, trialInstrument()).ok()) << whatInWords(item, session.instrument);
}

TEST(NextSession, EveryInstrumentGetsOne) {
    for (const auto& instrument : catalogue()) {
        SessionRequest asked;
        asked.minutes = 12.0;
        asked.bpm = 60.0;
        asked.ladder = defaultDrill(instrument);
        const auto session = planSession(asked, instrument, weakThird());
        ASSERT_FALSE(session.items.empty()) << instrument.id;
        EXPECT_TRUE(checked(session.drill, instrument).ok()) << instrument.id;
        EXPECT_LE(session.minutes, 12.0) << instrument.id;
    }
}

TEST(NextSession, TooFewMinutesAreSaid) {
    const auto session = planSession(request(0.1), trialInstrument(), {});
    EXPECT_TRUE(session.items.empty());
    ASSERT_FALSE(remarksOn(session).empty());
    EXPECT_NE(remarksOn(session)[0].find("too few"), std::string::npos);
}

TEST(NextSession, LongRestAfterTwentyFiveMinutes) {
    const auto session = planSession(request(60.0), trialInstrument(), weakThird());
    double sinceRest = 0.0, longest = 0.0;
    for (const auto& item : session.items) {
        sinceRest += item.seconds;
        longest = std::max(longest, sinceRest);
        if (item.restSecondsAfter >= 300.0)
            sinceRest = 0.0;
    }
    EXPECT_LE(longest, 27.0 * 60.0);
}

TEST(Care, NothingIsShownInATake) {
    CareMoment moment;
    moment.takeRuns = moment.firstUse = moment.firmSegmentNext = true;
    moment.minutesPlayed = 90.0;
    EXPECT_TRUE(careNow({}, moment).empty());
}

TEST(Care, RestIsRemindedOfAfterContinuousPlayingAndNamesItsSource) {
    CareMoment moment;
    moment.minutesPlayed = 26.0;
    moment.hearingWasShown = true;
    ASSERT_EQ(careNow({}, moment), std::vector{CareKind::rest});
    EXPECT_NE(inWords(CareKind::rest).source.find("Musician Health and Safety"), std::string::npos);
    moment.minutesSinceReminder = 2.0;
    EXPECT_TRUE(careNow({}, moment).empty());
}

TEST(Care, RestsAreOfMinutesThatCanBeKept) {
    EXPECT_TRUE(checked(CareSettings{}).ok());
    for (const double minutes : {0.5, 0.0, -1.0, 100000.0, std::numeric_limits<double>::quiet_NaN()}) {
        CareSettings playing;
        playing.restAfterMinutes = minutes;
        EXPECT_FALSE(checked(playing).ok()) << minutes;
        CareSettings rest;
        rest.restMinutes = minutes;
        EXPECT_FALSE(checked(rest).ok()) << minutes;
    }
    CareSettings most;
    most.restAfterMinutes = CareSettings::mostPlayedMinutes;
    most.restMinutes = CareSettings::mostRestMinutes;
    EXPECT_TRUE(checked(most).ok());
}

TEST(Care, EachCautionCanBeSwitchedOff) {
    CareSettings off;
    off.handCheck = off.restReminder = off.firmValves = off.hearing = false;
    CareMoment moment;
    moment.firstUse = moment.firmSegmentNext = true;
    moment.minutesPlayed = 90.0;
    EXPECT_TRUE(careNow(off, moment).empty());
    EXPECT_EQ(careNow({}, moment).size(), 4u);
}

TEST(Care, SeveralSlowFingersAskForTheHandPosition) {
    Weaknesses weaknesses = weakThird();
    EXPECT_EQ(slowFingers(weaknesses), 1);
    for (int finger : {1, 2}) {
        weaknesses.findings.push_back(weaknesses.findings[0]);
        weaknesses.findings.back().suspect.finger = finger;
    }
    CareMoment moment;
    moment.hearingWasShown = true;
    moment.slowFingers = slowFingers(weaknesses);
    EXPECT_EQ(careNow({}, moment), std::vector{CareKind::handCheck});
}

TEST(Care, PauseOfFiveMinutesStartsTheCountAgain) {
    std::vector<TakeEvidence> takes(3);
    const std::int64_t minute = 60000;
    const std::int64_t base = 1709575200000;
    const std::int64_t starts[] = {0, 4, 16};
    for (std::size_t i = 0; i < takes.size(); ++i) {
        takes[i].facts.startedUtcMs = base + starts[i] * minute;
        takes[i].facts.endedUtcMs = takes[i].facts.startedUtcMs + 3 * minute;
    }
    EXPECT_DOUBLE_EQ(minutesWithoutRest(std::span(takes).first(2), base + 8 * minute, 5.0), 6.0);
    EXPECT_DOUBLE_EQ(minutesWithoutRest(takes, base + 20 * minute, 5.0), 3.0);
    EXPECT_DOUBLE_EQ(minutesWithoutRest(takes, base + 40 * minute, 5.0), 0.0);
}

} // namespace
} // namespace valveladder
