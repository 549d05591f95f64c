// What is claimed of fingers, on the drills that players get, by players that the model was not made for:
// heavy tails, drift, rubato, blunders, low notes that speak late, accents held too long, wrong and missed
// notes.
#include "Findings/Findings.h"
#include "Findings/Identifiability.h"
#include "Findings/NextSession.h"
#include "Findings/SideBySide.h"
#include "Support/FindingsTrials.h"
#include "Support/LifelikePlayer.h"
#include "Words/FindingWords.h"
#include "Words/FindingsInWords.h"
#include "Words/SuspectWords.h"

#include <fmt/format.h>
#include <gtest/gtest.h>

#include <cmath>
#include <map>

namespace valveladder {
namespace {

using namespace simulated;

std::string share(int part, int whole) {
    return fmt::format("{} of {} ({:.1f} %)", part, whole, 100.0 * part / std::max(1, whole));
}

/// What chance alone leaves of a promised share in all but one of a thousand runs; none at full size.
double slack(double promised, int trials) {
    return fullSize() ? 0.0 : 3.1 * std::sqrt(promised * (1.0 - promised) / std::max(1, trials));
}

void expectAtLeast(double promised, int hits, int trials) {
    EXPECT_GE(static_cast<double>(hits) / std::max(1, trials), promised - slack(promised, trials));
}

void expectAtMost(double promised, int hits, int trials) {
    EXPECT_LE(static_cast<double>(hits) / std::max(1, trials), promised + slack(promised, trials));
}

/// Both ends, with what chance allows for these trials at every size.
void expectCoverage(int held, int stated) {
    ASSERT_GT(stated, 0);
    const double share = static_cast<double>(held) / stated;
    EXPECT_GE(share, 0.87 - slack(0.9, stated));
    EXPECT_LE(share, 0.93 + slack(0.9, stated));
}

struct Planted {
    int players = 0;
    int named = 0;
    int stated = 0;
    int held = 0;
    std::map<std::string, std::pair<int, int>> bySuspect; ///< named, all

    void add(const Suspect& suspect, double extraMs, const std::vector<Finding>& found) {
        auto& counts = bySuspect[inWords(suspect)];
        ++players;
        ++counts.second;
        if (found.empty() || !(found.front().suspect == suspect))
            return;
        ++named;
        ++counts.first;
        ++stated;
        const auto& effect = found.front().effect;
        held += effect.low <= extraMs && extraMs <= effect.high ? 1 : 0;
    }
    void reportIn(const std::string& what) const {
        report(fmt::format("{}: named first {}, interval holds the truth in {}", what, share(named, players),
                           share(held, stated)));
        if (fullSize())
            for (const auto& [name, counts] : bySuspect)
                report(fmt::format("    {}: {}", name, share(counts.first, counts.second)));
    }
};

/// Every finger's press and release in turn, on one instrument's daily drill as shipped.
Planted plant(const Instrument& instrument, double extraMs, int takes, int players, std::uint64_t seed,
              const Life& life = {}) {
    const Drill drill = defaultDrill(instrument);
    const auto effects = fingerEffects(instrument.valves);
    Planted planted;
    for (int i = 0; i < players; ++i) {
        const auto& suspect = effects[static_cast<std::size_t>(i) % effects.size()];
        LifelikePlayer player({{suspect, extraMs}}, life, seed + static_cast<std::uint64_t>(i));
        planted.add(suspect, extraMs, findWeaknesses(practise(player, drill, instrument, takes)).findings);
    }
    return planted;
}

void expectNamed(double extraMs, int takes, double promised, std::uint64_t seed) {
    for (const auto& instrument : catalogue()) {
        const auto planted = plant(instrument, extraMs, takes, trialSize(500, 24, 8), seed);
        planted.reportIn(
            fmt::format("{}, {:.0f} ms, {} takes of the daily drill", instrument.id, extraMs, takes));
        SCOPED_TRACE(instrument.id);
        expectAtLeast(promised, planted.named, planted.players);
        seed += 10000;
    }
}

TEST(ClaimsDailyDrill, TwentyFiveMsOfAnyFingerAreNamedWithinTwoTakes) {
    expectNamed(25.0, 2, 0.95, 3'000'000);
}

TEST(ClaimsDailyDrill, TenMsOfAnyFingerAreNamedWithinSixTakes) {
    expectNamed(10.0, 6, 0.90, 4'000'000);
}

// The whole way of a sensor take: changeovers measured, one cause told once.
TEST(ClaimsDailyDrill, OneCauseIsOneFindingWithItsMeasuresBeneath) {
    const auto& instrument = *findInstrument("trumpet-b-flat");
    Life life;
    life.sensors = true;
    const Suspect three{SuspectKind::press, 3, {}, {}, {}};
    const int players = trialSize(200, 20, 5);
    int named = 0, single = 0;
    for (int i = 0; i < players; ++i) {
        LifelikePlayer player({{three, 30.0}}, life, 4'900'000 + static_cast<std::uint64_t>(i));
        const auto found = findWeaknesses(practise(player, defaultDrill(instrument), instrument, 4)).findings;
        named += !found.empty() && found.front().suspect == three ? 1 : 0;
        single += std::ranges::count_if(found, [&](const Finding& one) { return one.suspect == three; }) == 1;
    }
    expectAtLeast(0.95, named, players);
    EXPECT_EQ(single, named);
}

/// Claims of any kind to players without weakness.
void expectQuiet(const std::string& what, const Instrument& instrument, const Drill& drill, int takes,
                 int players, std::uint64_t seed, const Life& life = {}) {
    int alarms = 0;
    std::map<std::string, int> told;
    for (int i = 0; i < players; ++i) {
        LifelikePlayer player({}, life, seed + static_cast<std::uint64_t>(i));
        const auto claims =
            inWords(findingsIn(practise(player, drill, instrument, takes), instrument, 66.0), instrument)
                .claims;
        alarms += claims.empty() ? 0 : 1;
        for (const auto& claim : claims)
            ++told[claim.substr(0, claim.find(','))];
    }
    report(
        fmt::format("nothing planted, {}, {} takes: any claim in {}", what, takes, share(alarms, players)));
    for (const auto& [claim, count] : told)
        report(fmt::format("    {} times: {}", count, claim));
    expectAtMost(0.05, alarms, players);
}

TEST(ClaimsFalseAlarm, PlayersOfTheDailyDrillHearOfNone) {
    const auto& trumpet = *findInstrument("trumpet-b-flat");
    const auto& euphonium = trialInstrument();
    expectQuiet("daily drill, trumpet", trumpet, defaultDrill(trumpet), 2, trialSize(1000, 120), 5'000'000);
    expectQuiet("daily drill, trumpet", trumpet, defaultDrill(trumpet), 8, trialSize(1000, 60), 5'100'000);
    expectQuiet("daily drill, trumpet", trumpet, defaultDrill(trumpet), 24, trialSize(1000, 30), 5'200'000);
    expectQuiet("daily drill, euphonium", euphonium, defaultDrill(euphonium), 2, trialSize(1000, 60),
                5'300'000);
    expectQuiet("daily drill, euphonium", euphonium, defaultDrill(euphonium), 8, trialSize(1000, 30),
                5'400'000);
    expectQuiet("daily drill, euphonium", euphonium, defaultDrill(euphonium), 24, trialSize(1000, 20),
                5'500'000);
}

TEST(ClaimsFalseAlarm, PlayersOfTheMixedDrillHearOfNone) {
    const Drill mixed = fullDrill(trialInstrument());
    expectQuiet("mixed drill", trialInstrument(), mixed, 2, trialSize(1000, 60), 5'600'000);
    expectQuiet("mixed drill", trialInstrument(), mixed, 8, trialSize(1000, 30), 5'700'000);
    expectQuiet("mixed drill", trialInstrument(), mixed, 24, trialSize(1000, 20), 5'800'000);
}

/// Two takes of the daily drill, then `sessions` sessions as `next` makes them of what is known by then.
std::vector<TakeEvidence> afterSessions(LifelikePlayer& player, const Instrument& instrument, int sessions) {
    constexpr double bpm = 66.0, minutes = 15.0;
    constexpr int firstTakes = 2, perDay = 4;
    const Drill daily = defaultDrill(instrument);
    auto takes = practise(player, daily, instrument, firstTakes);
    for (int i = 0; i < sessions; ++i) {
        const auto known = findingsIn(takes, instrument, bpm);
        SessionRequest request;
        request.minutes = minutes;
        request.bpm = bpm;
        request.ladder = daily;
        const auto session = planSession(request, instrument, known.weaknesses,
                                         known.settle ? known.settle->cells : std::vector<FingeredCell>{});
        takes.push_back(playTake(player, session.drill, instrument, firstTakes + i, bpm, perDay));
    }
    return takes;
}

TEST(ClaimsFalseAlarm, PlayersOfTwoNextSessionsHearOfNone) {
    std::uint64_t seed = 5'960'000;
    for (const char* id : {"trumpet-b-flat", "euphonium-4-treble"}) {
        const auto& instrument = *findInstrument(id);
        const int players = trialSize(1000, 60);
        int alarms = 0;
        std::map<std::string, int> told;
        for (int i = 0; i < players; ++i) {
            LifelikePlayer player({}, {}, seed + static_cast<std::uint64_t>(i));
            const auto claims =
                inWords(findingsIn(afterSessions(player, instrument, 2), instrument, 66.0), instrument)
                    .claims;
            alarms += claims.empty() ? 0 : 1;
            for (const auto& claim : claims)
                ++told[claim.substr(0, claim.find(". "))];
        }
        report(fmt::format("nothing planted, two next sessions, {}: any claim in {}", id,
                           share(alarms, players)));
        for (const auto& [claim, count] : told)
            report(fmt::format("    {} times: {}", count, claim));
        expectAtMost(0.05, alarms, players);
        seed += 10000;
    }
}

TEST(ClaimsFalseAlarm, PlayersWithValveSensorsHearOfNone) {
    const auto& trumpet = *findInstrument("trumpet-b-flat");
    Life life;
    life.sensors = true;
    expectQuiet("daily drill, trumpet, valve sensors", trumpet, defaultDrill(trumpet), 2, trialSize(1000, 60),
                5'900'000, life);
    expectQuiet("daily drill, trumpet, valve sensors", trumpet, defaultDrill(trumpet), 24,
                trialSize(1000, 20), 5'950'000, life);
}

TEST(ClaimsIntervals, OfEffectsHoldTheTruthInNineOfTen) {
    Planted all;
    std::uint64_t seed = 6'000'000;
    for (const char* id : {"trumpet-b-flat", "euphonium-4-treble", "horn-f"})
        for (const auto& [extraMs, takes] : {std::pair{25.0, 2}, {25.0, 6}, {15.0, 12}}) {
            const auto planted = plant(*findInstrument(id), extraMs, takes, trialSize(500, 40, 8), seed);
            planted.reportIn(fmt::format("intervals, {}, {:.0f} ms, {} takes", id, extraMs, takes));
            all.stated += planted.stated;
            all.held += planted.held;
            seed += 10000;
        }
    report("intervals of effects, all: " + share(all.held, all.stated));
    expectCoverage(all.held, all.stated);
}

TEST(ClaimsIntervals, AfterNextSessionsHoldTheTruthInNineOfTen) {
    Planted all;
    std::uint64_t seed = 6'200'000;
    for (const char* id : {"trumpet-b-flat", "euphonium-4-treble"}) {
        const auto& instrument = *findInstrument(id);
        const auto effects = fingerEffects(instrument.valves);
        const int players = trialSize(500, 60, 8);
        Planted planted;
        for (int i = 0; i < players; ++i) {
            constexpr double extraMs = 25.0;
            const auto& suspect = effects[static_cast<std::size_t>(i) % effects.size()];
            LifelikePlayer player({{suspect, extraMs}}, {}, seed + static_cast<std::uint64_t>(i));
            planted.add(suspect, extraMs, findWeaknesses(afterSessions(player, instrument, 2)).findings);
        }
        planted.reportIn(fmt::format("intervals after two next sessions, {}, 25 ms", id));
        all.stated += planted.stated;
        all.held += planted.held;
        all.named += planted.named;
        all.players += planted.players;
        seed += 10000;
    }
    expectAtLeast(0.90, all.named, all.players);
    expectCoverage(all.held, all.stated);
}

enum class Goes { shrinking, steady, growing };

/// Ms of a weakness on a day of fourteen.
double extraOn(int day, Goes goes) {
    constexpr double perDay = 20.0 / 13.0;
    return goes == Goes::steady ? 25.0 : goes == Goes::growing ? 10.0 + perDay * day : 30.0 - perDay * day;
}

constexpr double slopeOf(Goes goes) {
    constexpr double perWeek = 20.0 / 13.0 * 7.0;
    return goes == Goes::steady ? 0.0 : goes == Goes::growing ? perWeek : -perWeek;
}

struct Followed {
    int players = 0;
    int held = 0;
    int better = 0, worse = 0;
    double slopes = 0.0;
};

Followed follow(Goes goes, bool sensors, int players, std::uint64_t seed) {
    constexpr int days = 14, perDay = 4;
    const auto& instrument = *findInstrument("trumpet-b-flat");
    const Drill drill = defaultDrill(instrument);
    const Suspect three{SuspectKind::press, 3, {}, {}, {}};
    Life life;
    life.sensors = sensors;
    Followed followed;
    for (int i = 0; i < players; ++i) {
        LifelikePlayer player({}, life, seed + static_cast<std::uint64_t>(i));
        std::vector<TakeEvidence> takes;
        for (int take = 0; take < days * perDay; ++take) {
            player.become({{three, extraOn(take / perDay, goes)}});
            takes.push_back(playTake(player, drill, instrument, take, 60.0 + take / perDay, perDay));
        }
        const auto trend = trendOf(takes, three, sensors ? Complaint::slow : Complaint::late);
        if (trend.days.empty())
            continue;
        ++followed.players;
        followed.slopes += trend.perWeek.value;
        followed.held += trend.perWeek.low <= slopeOf(goes) && slopeOf(goes) <= trend.perWeek.high ? 1 : 0;
        followed.better += trend.course() == Course::better ? 1 : 0;
        followed.worse += trend.course() == Course::worse ? 1 : 0;
    }
    return followed;
}

TEST(ClaimsTrend, SlopesAreUnbiasedAndSteadyPlayersAreToldSo) {
    const int players = trialSize(400, 40, 6);
    int held = 0, all = 0;
    std::uint64_t seed = 7'000'000;
    for (const bool sensors : {false, true})
        for (const auto goes : {Goes::shrinking, Goes::steady, Goes::growing}) {
            const auto followed = follow(goes, sensors, players, seed);
            seed += 10000;
            ASSERT_EQ(followed.players, players);
            const double mean = followed.slopes / players;
            report(
                fmt::format("trend over 14 days, {}: {:+.2f} ms a week for {:+.2f}, interval holds it in {}, "
                            "told better {}, worse {}",
                            sensors ? "valve sensors" : "MIDI alone", mean, slopeOf(goes),
                            share(followed.held, players), followed.better, followed.worse));
            held += followed.held;
            all += players;
            const double size = slopeOf(Goes::growing);
            const double chance = fullSize() ? 0.0 : 0.12; // of the mean of so few players
            EXPECT_NEAR(mean, slopeOf(goes), (0.03 + chance) * size);
            if (goes == Goes::steady) {
                const double allowed = 0.1 + 3.1 * std::sqrt(0.1 * 0.9 / players);
                EXPECT_LE(followed.better + followed.worse, allowed * players);
            } else {
                const int right = goes == Goes::shrinking ? followed.better : followed.worse;
                EXPECT_GE(right, players * 3 / 4);
            }
        }
    expectCoverage(held, all);
}

struct Compared {
    int pairs = 0, flagged = 0, found = 0, innocent = 0, held = 0, stated = 0;
};

/// Two days, or takes, of one player; `extraMs` on one change on the second.
Compared compareDays(const Instrument& instrument, int takesADay, double extraMs, int pairs,
                     std::uint64_t seed, const Life& life) {
    constexpr int oftenEnough = 8;
    const Drill drill = defaultDrill(instrument);
    const Score score = buildScore(drill, instrument, 66.0).value();
    auto changes = plantable(drill, instrument, oftenEnough);
    std::erase_if(changes, [](const Suspect& one) { return one.kind != SuspectKind::change; });
    Compared compared;
    for (int i = 0; i < pairs; ++i) {
        const auto& planted = changes[static_cast<std::size_t>(i) % changes.size()];
        LifelikePlayer player({}, life, seed + static_cast<std::uint64_t>(i));
        std::vector<Performance> before, after;
        for (int take = 0; take < takesADay; ++take)
            before.push_back(player.play(drill, instrument, score));
        if (extraMs > 0.0)
            player.become({{planted, extraMs}});
        for (int take = 0; take < takesADay; ++take)
            after.push_back(player.play(drill, instrument, score));
        SideGroup first{"first", 66.0, {}}, second{"second", 66.0, {}};
        for (int take = 0; take < takesADay; ++take) {
            first.takes.push_back(&before[static_cast<std::size_t>(take)]);
            second.takes.push_back(&after[static_cast<std::size_t>(take)]);
        }
        const auto sides = sideBySide(score, {first, second});
        bool found = false, innocent = false, level = false;
        for (std::size_t m = 0; m < sideMeasures; ++m) {
            level = level || sides.overall[0].beyondChance[m];
            for (const auto& change : sides.overall[0].changes[m]) {
                const bool isPlanted = extraMs > 0.0 && change.change == planted.change;
                found = found || (change.beyondChance && isPlanted);
                innocent = innocent || (change.beyondChance && !isPlanted);
                if (m == 0 && isPlanted) {
                    ++compared.stated;
                    compared.held += change.difference.low <= extraMs && extraMs <= change.difference.high;
                }
            }
        }
        ++compared.pairs;
        compared.flagged += found || innocent || level ? 1 : 0;
        compared.found += found ? 1 : 0;
        compared.innocent += innocent ? 1 : 0;
    }
    return compared;
}

TEST(ClaimsCompare, EqualTakesShowNoDifference) {
    std::uint64_t seed = 8'000'000;
    for (const char* id : {"trumpet-b-flat", "euphonium-4-treble"})
        for (const auto& [takes, sensors] : {std::pair{1, false}, {4, false}, {4, true}}) {
            Life life;
            life.sensors = sensors;
            const auto compared =
                compareDays(*findInstrument(id), takes, 0.0, trialSize(1000, 80), seed, life);
            report(fmt::format("equal sides of {} takes, {}{}: any difference said in {}", takes, id,
                               sensors ? ", valve sensors" : "", share(compared.flagged, compared.pairs)));
            expectAtMost(0.05, compared.flagged, compared.pairs);
            seed += 10000;
        }
}

TEST(ClaimsCompare, FifteenMsOnOneChangeAreFoundAndOthersLeftAlone) {
    std::uint64_t seed = 8'500'000;
    for (const char* id : {"trumpet-b-flat", "euphonium-4-treble", "horn-f"}) {
        const auto compared = compareDays(*findInstrument(id), 4, 15.0, trialSize(1000, 100), seed, {});
        report(fmt::format(
            "15 ms on one change, days of 4 takes, {}: found {}, innocent changes said {}, interval "
            "holds the truth in {}",
            id, share(compared.found, compared.pairs), share(compared.innocent, compared.pairs),
            share(compared.held, compared.stated)));
        expectAtLeast(0.80, compared.found, compared.pairs);
        expectAtMost(0.05, compared.innocent, compared.pairs);
        expectCoverage(compared.held, compared.stated);
        seed += 10000;
    }
}

// Words that once were false.
TEST(ClaimsWords, NothingStandsOutIsSaidOfMidiAloneAsWell) {
    LifelikePlayer player({}, {}, 9'000'001);
    const auto& trumpet = *findInstrument("trumpet-b-flat");
    const auto found = findWeaknesses(practise(player, defaultDrill(trumpet), trumpet, 4));
    EXPECT_TRUE(found.enough);
    ASSERT_FALSE(inWords(found).empty());
    EXPECT_NE(inWords(found).front().find("changeovers were not measured"), std::string::npos);
}

TEST(ClaimsWords, WithoutChangeoversNobodyIsCalledQuick) {
    Life even{.heavySdMs = 1.0,
              .driftSdMs = 0.0,
              .rubatoMs = 0.0,
              .blunderShare = 0.0,
              .pitchMs = 0.0,
              .accentMs = 0.0,
              .errorShare = 0.0};
    LifelikePlayer player({}, even, 9'000'002);
    const auto& trumpet = *findInstrument("trumpet-b-flat");
    const auto takes = practise(player, defaultDrill(trumpet), trumpet, 8);
    const auto carried = carryOvers(takes);
    ASSERT_FALSE(carried.empty());
    ASSERT_TRUE(carried.front().natural);
    EXPECT_EQ(carried.front().slowerPercent.n, 0);
}

TEST(ClaimsWords, ALipSlurIsNoFinger) {
    ChangeEvidence slur;
    slur.change = {*Combination::parse("1-2"), *Combination::parse("1-2")};
    ChangeEvidence moved;
    moved.change = {*Combination::parse("0"), *Combination::parse("1-2")};
    for (const auto& suspect : suspectsIn({slur, moved}))
        EXPECT_FALSE(suspect.kind == SuspectKind::change && suspect.change.fingersMoved() == 0);
}

} // namespace
} // namespace valveladder
