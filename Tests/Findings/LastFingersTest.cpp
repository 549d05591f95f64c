// Which finger comes last: direct evidence by sound or valve sensors, and what is claimed of it.
#include "Findings/LastFingers.h"

#include "Findings/Distributions.h"
#include "Findings/Findings.h"
#include "Findings/SeparatingDrill.h"
#include "Reports/LastFingersReport.h"
#include "Support/CorpusRun.h"
#include "Support/FindingsTrials.h"
#include "Support/LifelikePlayer.h"
#include "Support/SensorFingers.h"
#include "Support/SlowFingers.h"
#include "Words/FindingsInWords.h"
#include "Words/FingerOrderWords.h"
#include "Words/SuspectWords.h"

#include <fmt/format.h>
#include <gtest/gtest.h>

#include <cmath>
#include <map>
#include <sstream>

namespace valveladder {
namespace {

using namespace simulated;

Combination valves(const char* text) {
    return *Combination::parse(text);
}

const Suspect threePressing{SuspectKind::press, 3, {}, {}, {}};
const Suspect onePressing{SuspectKind::press, 1, {}, {}, {}};
const Suspect oneReleasing{SuspectKind::release, 1, {}, {}, {}};

/// `count` changes in which `late` came last, by `ms`; none = all together.
void add(TakeEvidence& take, const char* from, const char* to, const char* late, int count,
         OrderFrom by = OrderFrom::sensors, float ms = 30.0F) {
    ChangeEvidence change;
    change.change = {valves(from), valves(to)};
    change.orderFrom = by;
    change.lateFingers = valves(late);
    change.lateByMs = change.lateFingers == Combination() ? 0.0F : ms;
    take.changes.insert(take.changes.end(), static_cast<std::size_t>(count), change);
}

const LastFinger& of(const std::vector<LastFinger>& fingers, const Suspect& suspect,
                     OrderFrom from = OrderFrom::sensors) {
    static const LastFinger none = [] {
        LastFinger finger;
        finger.told = -1;
        return finger;
    }();
    const auto found = std::ranges::find_if(
        fingers, [&](const LastFinger& finger) { return finger.suspect == suspect && finger.from == from; });
    return found != fingers.end() ? *found : none;
}

std::vector<LastFinger> fingersOf(TakeEvidence take) {
    return lastFingersIn(std::vector<TakeEvidence>{std::move(take)});
}

/// Of a change as it was heard, the evidence of it: from 1-2 to 2-3, both notes right.
ChangeEvidence evidenceFrom(const ChangeResult& measured) {
    const auto& trumpet = *findInstrument("trumpet-b-flat");
    const Drill drill = cellDrill({{{64, 63}, {valves("1-2"), valves("2-3")}}}, "Cell", 1);
    const Score score = buildScore(drill, trumpet, 60.0).value();
    Performance played;
    for (int i = 0; i < 2; ++i) {
        NoteResult note;
        note.index = i;
        note.outcome = Outcome::right;
        played.notes.push_back(note);
    }
    played.changes = {measured};
    played.changes.front().toIndex = 1;
    played.changes.front().change = {valves("1-2"), valves("2-3")};
    return evidenceOf({}, drill, trumpet, score, played).changes.front();
}

ChangeResult measuredBy(bool sensors, std::optional<double> lateByMs, const char* late = "3") {
    ChangeResult result;
    result.changeoverMs = 50.0;
    result.fromSensors = sensors;
    result.lateByMs = lateByMs;
    result.lateFingers = lateByMs ? valves(late) : Combination();
    return result;
}

} // namespace

TEST(LastFingers, OrdersAreTakenFromChangesThatCouldTellThem) {
    const auto bySensors = evidenceFrom(measuredBy(true, 31.0));
    EXPECT_EQ(bySensors.orderFrom, OrderFrom::sensors);
    EXPECT_EQ(bySensors.lateFingers, valves("3"));
    EXPECT_FLOAT_EQ(bySensors.lateByMs, 31.0F);
    EXPECT_EQ(evidenceFrom(measuredBy(true, 9.0)).lateFingers, Combination()); // together
    EXPECT_EQ(evidenceFrom(measuredBy(true, 9.0)).orderFrom, OrderFrom::sensors);
    EXPECT_EQ(evidenceFrom(measuredBy(true, std::nullopt)).orderFrom, OrderFrom::nothing);
    EXPECT_EQ(evidenceFrom(measuredBy(false, std::nullopt)).orderFrom, OrderFrom::sound);
    EXPECT_EQ(evidenceFrom(measuredBy(false, 31.0)).lateFingers, valves("3"));
    ChangeResult unmeasured = measuredBy(false, 31.0);
    unmeasured.changeoverMs.reset();
    EXPECT_EQ(evidenceFrom(unmeasured).orderFrom, OrderFrom::nothing);
    EXPECT_EQ(evidenceFrom(measuredBy(false, 31.0, "1-3")).orderFrom, OrderFrom::nothing); // all of them
}

TEST(LastFingers, AreCountedWithExactIntervalsAndTheirMedian) {
    TakeEvidence take;
    add(take, "1-2", "2-3", "3", 12);
    add(take, "1-2", "2-3", "1", 2);
    add(take, "1-2", "2-3", "0", 6);
    const auto fingers = fingersOf(take);
    const auto& three = of(fingers, threePressing);
    EXPECT_EQ(three.told, 20);
    EXPECT_EQ(three.apart, 14);
    EXPECT_EQ(three.last, 12);
    EXPECT_DOUBLE_EQ(three.byChance, 7.0);
    // Exact 90 % interval of 12 of 20, by halving on whole-number binomial sums.
    EXPECT_NEAR(three.percent.value, 60.0, 1e-9);
    EXPECT_NEAR(three.percent.low, 39.3585, 0.001);
    EXPECT_NEAR(three.percent.high, 78.2931, 0.001);
    ASSERT_TRUE(three.behindMs);
    EXPECT_DOUBLE_EQ(three.behindMs->value, 30.0);
    EXPECT_FALSE(of(fingers, oneReleasing).behindMs) << "two are too few for an interval";
    EXPECT_EQ(of(fingers, onePressing).told, -1) << "never moved";
}

TEST(LastFingers, AFingerThatGoesTheWayOfAllIsNotClaimed) {
    TakeEvidence take;
    // Whatever goes down comes last: keys, not a finger.
    add(take, "1-2", "2-3", "3", 40);
    add(take, "2-3", "1-2", "1", 40);
    add(take, "1", "2", "2", 40);
    add(take, "2", "1", "1", 40);
    for (const auto& finger : fingersOf(take))
        EXPECT_FALSE(finger.claimed) << inWords(finger.suspect);
    TakeEvidence one;
    add(one, "1-2", "2-3", "3", 40);
    add(one, "2-3", "1-2", "1", 20);
    add(one, "2-3", "1-2", "3", 20);
    const auto fingers = fingersOf(one);
    EXPECT_TRUE(of(fingers, threePressing).claimed);
    for (const auto& finger : fingers)
        EXPECT_EQ(finger.claimed, finger.suspect == threePressing) << inWords(finger.suspect);
}

TEST(LastFingers, InChangesThatGoOneWayChanceAloneIsTheMeasure) {
    TakeEvidence take;
    add(take, "0", "2-3", "3", 30);
    add(take, "0", "1-3", "3", 8);
    add(take, "0", "1-3", "1", 4);
    add(take, "0", "1-2-3", "2-3", 10);
    const auto fingers = fingersOf(take);
    EXPECT_TRUE(of(fingers, threePressing).claimed);
    EXPECT_NEAR(of(fingers, threePressing).byChance, 15.0 + 6.0 + 20.0 / 3.0, 1e-9);
    EXPECT_FALSE(of(fingers, onePressing).claimed);
}

TEST(LastFingers, OldTakesAndSoundHeardBeforeOrdersWereToldAreLeftOut) {
    std::vector<TakeEvidence> takes(4);
    constexpr std::int64_t day = 86'400'000;
    for (int i = 0; i < 4; ++i)
        takes[static_cast<std::size_t>(i)].facts.startedUtcMs = i * 20 * day;
    add(takes[0], "0", "2-3", "3", 5);                   // 60 days before the newest
    add(takes[1], "0", "2-3", "0", 7, OrderFrom::sound); // perhaps no order could be told then
    add(takes[2], "0", "2-3", "3", 3, OrderFrom::sound);
    add(takes[3], "0", "2-3", "0", 4, OrderFrom::sound);
    add(takes[3], "0", "2-3", "3", 2);
    const auto fingers = lastFingersIn(takes);
    EXPECT_EQ(of(fingers, threePressing, OrderFrom::sound).told, 7);
    EXPECT_EQ(of(fingers, threePressing, OrderFrom::sound).takes, 2);
    EXPECT_EQ(of(fingers, threePressing).told, 2);
}

TEST(LastFingers, SoundAndSensorsThatDisagreeAreToldSo) {
    TakeEvidence take;
    add(take, "0", "2-3", "3", 40, OrderFrom::sound);
    add(take, "0", "2-3", "2", 40, OrderFrom::sensors);
    const auto fingers = fingersOf(take);
    const auto& sound = of(fingers, threePressing, OrderFrom::sound);
    const auto& sensors = of(fingers, threePressing);
    EXPECT_TRUE(disagree(sound, sensors));
    EXPECT_FALSE(disagree(sound, sound));
    EXPECT_EQ(disagreementInWords(sound, sensors),
              "Sound and valve sensors disagree on 3 pressing: where fingers came apart it was last in 40 of "
              "40 changes by sound, in 0 of 40 by the sensors, over all takes.");
    const auto report =
        inWords(findingsIn(std::vector<TakeEvidence>{take}, trialInstrument(), 60.0), trialInstrument());
    const auto said = [](const std::string& words) { return words.find("disagree on") != std::string::npos; };
    EXPECT_TRUE(std::ranges::any_of(report.lastClaims, said));
}

TEST(LastFingers, AreSaidWithFigureIntervalsAndChance) {
    TakeEvidence take;
    add(take, "0", "2-3", "3", 40);
    add(take, "0", "2-3", "0", 12);
    EXPECT_EQ(inWords(of(fingersOf(take), threePressing)),
              "Your third finger goes down last in 77 % of your changes of two valves or more, as the valve "
              "sensors tell. Sure: 65 to 86 % (52 changes in 1 take). Chance alone makes it 20 of the 40 in "
              "which fingers came apart; it was 40. When it is last, it is 30 ms behind. Sure: 30 to 30 ms.");
}

TEST(LastFingers, WhatTheFitsSayIsSaidBeside) {
    TakeEvidence take;
    add(take, "0", "2-3", "3", 40);
    const auto fingers = fingersOf(take);
    const auto& three = of(fingers, threePressing);
    ASSERT_TRUE(three.claimed);
    Weaknesses fits;
    EXPECT_EQ(timingSays(three, fits), TimingSays::nothing);
    Finding finding;
    finding.suspect = threePressing;
    fits.findings = {finding};
    EXPECT_EQ(timingSays(three, fits), TimingSays::same);
    fits.findings.front().suspect = oneReleasing;
    EXPECT_EQ(timingSays(three, fits), TimingSays::another);
    EXPECT_EQ(
        inWords(three, TimingSays::another, fingersNamed(fits)),
        "The times of the changes in all your takes point elsewhere, to 1 releasing: both are told here, "
        "more takes will show which is right.");
    fits.findings.front().rivals = {threePressing};
    EXPECT_EQ(timingSays(three, fits), TimingSays::couldNotTell);
    fits.findings.front().complaint = Complaint::wrong; // no times: it says nothing of when
    EXPECT_EQ(timingSays(three, fits), TimingSays::nothing);
    const Suspect twoPressing{SuspectKind::press, 2, {}, {}, {}};
    fits.findings.front() = finding;
    fits.findings.front().suspect = twoPressing;
    EXPECT_EQ(timingSays(of(fingers, twoPressing), fits), TimingSays::againstLast);
    fits.findings.front().complaint = Complaint::wrong;
    EXPECT_EQ(timingSays(of(fingers, twoPressing), fits), TimingSays::nothing);
}

TEST(LastFingers, StandInATableOfAtMostEightyColumns) {
    TakeEvidence take;
    add(take, "0", "2-3", "3", 4000);
    add(take, "0", "1-2-3-4", "4", 3000, OrderFrom::sound);
    const std::string text = lastFingersText(fingersOf(take), true);
    EXPECT_NE(text.find("by sound\n"), std::string::npos);
    EXPECT_NE(text.find("by valve sensors\n"), std::string::npos);
    EXPECT_NE(text.find("  3 pressing    4000 of 4000  100 % (100-100)   4000    2000  30 (30-30) *\n"),
              std::string::npos)
        << text;
    std::istringstream lines(text);
    for (std::string line; std::getline(lines, line);)
        EXPECT_LE(line.size(), 80U) << line;
    EXPECT_EQ(lastFingersText({}), "");
}

namespace {

/// Takes of the daily drill as shipped, by MIDI with valve sensors. `late`: of the fingers on the valves; the
/// notes come by half of it later.
std::vector<TakeEvidence> practiseWithSensors(const Instrument& instrument, const std::vector<Weak>& late,
                                              const Fingers& fingers, int count, std::uint64_t seed) {
    constexpr int perDay = 4;
    constexpr double firstBpm = 60.0, stepBpm = 2.0;
    const Drill drill = defaultDrill(instrument);
    auto half = late;
    for (auto& weak : half)
        weak.extraMs /= 2.0;
    LifelikePlayer player(half, {}, seed);
    std::vector<TakeEvidence> takes;
    for (int take = 0; take < count; ++take) {
        const double bpm = firstBpm + stepBpm * (take / perDay);
        const Score score = buildScore(drill, instrument, bpm).value();
        Performance played = player.play(drill, instrument, score);
        const std::uint64_t ofTake = seed * 1000 + static_cast<std::uint64_t>(take);
        measureBySensors(played, score, sensorMoves(played, score, late, fingers, ofTake));
        takes.push_back(evidenceOf(factsOf(take, bpm, perDay), drill, instrument, score, played));
    }
    return takes;
}

/// The fingers that the drill moves in enough changes of two valves or more.
std::vector<Suspect> fingersTold(const Instrument& instrument, int least) {
    const auto fingers = lastFingersIn(practiseWithSensors(instrument, {}, {}, 1, 1));
    std::vector<Suspect> suspects;
    for (const auto& finger : fingers)
        if (finger.told >= least)
            suspects.push_back(finger.suspect);
    return suspects;
}

std::string share(int part, int whole) {
    return fmt::format("{} of {} ({:.1f} %)", part, whole, 100.0 * part / std::max(1, whole));
}

} // namespace

TEST(ClaimsLastFinger, AFingerPlantedLateIsNamedAndNoOther) {
    constexpr int takes = 2, least = 12;
    std::uint64_t seed = 8'000'000;
    for (const char* id : {"trumpet-b-flat", "euphonium-4-treble", "horn-f"}) {
        const auto& instrument = *findInstrument(id);
        const auto suspects = fingersTold(instrument, least);
        ASSERT_FALSE(suspects.empty()) << id;
        const int players = trialSize(500, 48, 12);
        int named = 0, others = 0;
        std::map<std::string, std::pair<int, int>> bySuspect;
        for (int i = 0; i < players; ++i) {
            const auto& suspect = suspects[static_cast<std::size_t>(i) % suspects.size()];
            Fingers fingers;
            fingers.pressLaterMs = i % 2 == 0 ? 0.0 : 8.0;
            const auto told = lastFingersIn(practiseWithSensors(instrument, {{suspect, 30.0}}, fingers, takes,
                                                                seed + static_cast<std::uint64_t>(i)));
            const bool found = of(told, suspect).claimed;
            named += found ? 1 : 0;
            bySuspect[inWords(suspect)].first += found ? 1 : 0;
            ++bySuspect[inWords(suspect)].second;
            others += std::ranges::any_of(
                told, [&](const LastFinger& finger) { return finger.claimed && finger.suspect != suspect; });
        }
        report(fmt::format("late finger planted, 30 ms, {}, {} takes by sensors: named {}, another named {}",
                           id, takes, share(named, players), share(others, players)));
        for (const auto& [name, counts] : bySuspect)
            report(fmt::format("    {}: {}", name, share(counts.first, counts.second)));
        EXPECT_GE(named, 0.95 * players - 3.1 * std::sqrt(0.05 * 0.95 * players)) << id;
        EXPECT_LE(others, 0.05 * players + 3.1 * std::sqrt(0.05 * 0.95 * players)) << id;
        seed += 10000;
    }
}

TEST(ClaimsLastFinger, PlayersWhoseFingersComeAlikeHearOfNone) {
    std::uint64_t seed = 8'100'000;
    for (const char* id : {"trumpet-b-flat", "euphonium-4-treble", "horn-f"})
        for (const int takes : {2, 8}) {
            const int players = trialSize(1000, 60, 12);
            int alarms = 0, apart = 0, told = 0;
            for (int i = 0; i < players; ++i) {
                Fingers fingers;
                fingers.heavySdMs = i % 3 == 0 ? 18.0 : 9.0;
                fingers.pressLaterMs = i % 2 == 0 ? 0.0 : 12.0;
                const auto fingersOfPlayer = lastFingersIn(practiseWithSensors(
                    *findInstrument(id), {}, fingers, takes, seed + static_cast<std::uint64_t>(i)));
                alarms += std::ranges::any_of(fingersOfPlayer, &LastFinger::claimed) ? 1 : 0;
                for (const auto& finger : fingersOfPlayer) {
                    told += finger.told;
                    apart += finger.apart;
                }
            }
            report(fmt::format("no finger late, {}, {} takes by sensors: any finger claimed in {}; fingers "
                               "apart in {}",
                               id, takes, share(alarms, players), share(apart, told)));
            EXPECT_GT(apart, told / 50) << "nothing to be mistaken for a late finger";
            EXPECT_LE(alarms, 0.05 * players);
            seed += 10000;
        }
}

TEST(ClaimsLastFinger, IntervalsHoldTheTruthInNineOfTen) {
    const auto& instrument = *findInstrument("trumpet-b-flat");
    const int players = trialSize(500, 100, 20);
    constexpr int takes = 2, poolOfTakes = 200;
    const std::vector<Weak> late{{threePressing, 25.0}};
    const auto pool =
        of(lastFingersIn(practiseWithSensors(instrument, late, {}, poolOfTakes, 8'200'000)), threePressing);
    ASSERT_TRUE(pool.behindMs);
    int shares = 0, medians = 0;
    for (int i = 0; i < players; ++i) {
        const auto one = of(lastFingersIn(practiseWithSensors(instrument, late, {}, takes,
                                                              8'300'000 + static_cast<std::uint64_t>(i))),
                            threePressing);
        ASSERT_TRUE(one.behindMs);
        shares += one.percent.low <= pool.percent.value && pool.percent.value <= one.percent.high ? 1 : 0;
        medians += one.behindMs->low <= pool.behindMs->value && pool.behindMs->value <= one.behindMs->high;
    }
    report(
        fmt::format("third finger 25 ms late, {} takes: interval of the share holds the truth in {}, of the "
                    "median in {}",
                    takes, share(shares, players), share(medians, players)));
    // Both are exact and discrete: they hold in nine of ten at least.
    const double least = 0.9 * players - 3.1 * std::sqrt(0.09 * players);
    EXPECT_GE(shares, least);
    EXPECT_GE(medians, least);
}

// The whole way of a take of sound: what sounds between the notes, heard, counted, claimed.
TEST(ClaimsLastFinger, AThirdFingerThatComesLastIsHeardInSound) {
    const auto& trumpet = *findInstrument("trumpet-b-flat");
    Drill drill = defaultDrill(trumpet);
    auto& ladder = std::get<LadderPattern>(drill.pattern);
    ladder.lastTop = ladder.firstTop;
    const int count = trialSize(24, 8, 8);
    std::vector<TakeEvidence> takes;
    for (int take = 0; take < count; ++take) {
        const double bpm = 60.0 + 2.0 * take;
        const Score score = buildScore(drill, trumpet, bpm).value();
        const auto seed = static_cast<std::uint32_t>(8'500'000 + take);
        const auto plan = testing::planSlowFingers(score, trumpet, bpm, seed, valves("3"));
        const auto sound = testing::renderBrass(plan, testing::voiceFor(trumpet), seed);
        takes.push_back(evidenceOf(factsOf(take, bpm), drill, trumpet, score,
                                   testing::listenTo(score, sound, bpm).heard));
    }
    const auto fingers = lastFingersIn(takes);
    report("third finger last in six of ten changes, by sound:\n" + lastFingersText(fingers));
    for (const auto& finger : fingers)
        EXPECT_TRUE(finger.from == OrderFrom::sound && (!finger.claimed || finger.suspect.finger == 3))
            << inWords(finger.suspect);
    EXPECT_TRUE(of(fingers, threePressing, OrderFrom::sound).claimed);
}

TEST(ClaimsLastFinger, FitsAndDirectEvidenceAgreeOnAPlantedFinger) {
    const auto& instrument = *findInstrument("trumpet-b-flat");
    const int players = trialSize(100, 12, 4);
    int same = 0, either = 0;
    for (int i = 0; i < players; ++i) {
        const auto found = findingsIn(practiseWithSensors(instrument, {{threePressing, 40.0}}, {}, 4,
                                                          8'400'000 + static_cast<std::uint64_t>(i)),
                                      instrument, 60.0);
        const auto& three = of(found.lastFingers, threePressing);
        either += three.claimed ? 1 : 0;
        same += timingSays(three, found.weaknesses) == TimingSays::same ? 1 : 0;
        if (three.claimed) {
            EXPECT_TRUE(std::ranges::any_of(inWords(found, instrument).claims, [](const std::string& words) {
                return words.find("Your third finger goes down last in") != std::string::npos;
            }));
        }
    }
    report(fmt::format("third finger 40 ms late, 4 takes by sensors: claimed by direct evidence {}, the fits "
                       "say the same in {}",
                       share(either, players), share(same, players)));
    EXPECT_GE(either, players * 9 / 10);
    EXPECT_GE(same, players * 3 / 4);
}

} // namespace valveladder
