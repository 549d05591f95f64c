#include "PlanSupport.h"

#include <gtest/gtest.h>

namespace valveladder {

using plansupport::utc;

namespace {

enum Played { passed, failed, cutShort };

/// A line of a table worked by hand: when it was played, how fast, how it went, and what had been planned.
struct Line {
    UtcMs started;
    double playedBpm;
    Played how;
    double planned;
};

PlanTake taken(const Line& line, std::size_t number) {
    return {line.started, "take-" + std::to_string(number), line.playedBpm, line.how != cutShort,
            line.how == passed};
}

/// Before each take the plan must be the table's, and after the last one `next` at `now`.
void expectTable(const TempoRules& rules, const std::vector<Line>& table, UtcMs now, double next) {
    ASSERT_TRUE(checked(rules).ok());
    ASSERT_EQ(table.size(), 20u);
    std::vector<PlanTake> log;
    for (std::size_t i = 0; i < table.size(); ++i) {
        EXPECT_EQ(nextTempo(rules, log, table[i].started).bpm, table[i].planned) << "before take " << i + 1;
        log.push_back(taken(table[i], i + 1));
    }
    EXPECT_EQ(nextTempo(rules, log, now).bpm, next);
}

} // namespace

// Start 60; two passes in a row add 1; a day after a passed take adds 2; two failures in a row take off 2;
// ceiling 66; tolerance 0.5. Zone Europe/Berlin: UTC + 1 h, from 2026-03-29 01:00 UTC on + 2 h.
//
// day (local)  take  UTC           planned  played   so afterwards
// Fri 27 Mar    1    27 17:00        60     60 pass  1 pass in a row
//               2    27 17:10        60     60 pass  2 in a row: 61
//               3    27 17:20        61     61 fail  1 failure
//               4    27 17:30        61     61 pass  1 pass in a row
//               5    27 17:40        61     61 pass  2 in a row: 62
// Sat 28 Mar    6    28 16:00        62     62 pass  day began at 60 + 2; 1 pass in a row
//               7    28 16:10        62     62 fail  1 failure
//               8    28 16:20        62     62 fail  2 in a row: 60, and the day's start is now 60
//               9    28 16:30        60     60 pass  1 pass in a row
//              10    28 16:40        60     58 pass  more than 0.5 below: does not count
//              11    28 22:30        60     60 pass  23:30 local, still Saturday; 2 in a row: 61
// Sun 29 Mar   12    28 23:10        62     62 pass  00:10 local; 60 + 2; 1 pass in a row
//              13    29 01:05        62     62 cut   03:05 local, summer time; does not count
//              14    29 21:30        62     62 fail  23:30 local, still Sunday; 1 failure
// Mon 30 Mar   15    29 22:10        64     64 fail  00:10 local (by winter time it would be Sunday);
//                                                    62 + 2; the counters began anew: 1 failure
//              16    30 16:00        64     64 fail  2 in a row: 62, and the day's start is now 62
//              17    30 16:10        62     62 fail  1 failure
// Wed  1 Apr   18     1 16:00        62     64 pass  no pass on Monday, Tuesday empty: still 62; played
//                                                    above the plan counts; 1 pass in a row
// Thu  2 Apr   19     2 16:00        64     64 pass  62 + 2; 1 pass in a row
//              20     2 16:10        64     64 pass  2 in a row: 65
// Sat  4 Apr          4 10:00        66              64 + 2; the empty Friday adds nothing
TEST(TempoPlanSession, TwentyTakesOverTheBeginOfSummerTimeInBerlin) {
    TempoRules rules;
    rules.startBpm = 60.0;
    rules.stepPerTake = 1.0;
    rules.passesPerStep = 2;
    rules.stepPerDay = 2.0;
    rules.failuresBeforeBack = 2;
    rules.stepBack = 2.0;
    rules.ceilingBpm = 66.0;
    rules.toleranceBpm = 0.5;
    rules.timeZone = "Europe/Berlin";
    const std::vector<Line> table = {
        {utc(2026, 3, 27, 17, 0), 60, passed, 60},  {utc(2026, 3, 27, 17, 10), 60, passed, 60},
        {utc(2026, 3, 27, 17, 20), 61, failed, 61}, {utc(2026, 3, 27, 17, 30), 61, passed, 61},
        {utc(2026, 3, 27, 17, 40), 61, passed, 61}, {utc(2026, 3, 28, 16, 0), 62, passed, 62},
        {utc(2026, 3, 28, 16, 10), 62, failed, 62}, {utc(2026, 3, 28, 16, 20), 62, failed, 62},
        {utc(2026, 3, 28, 16, 30), 60, passed, 60}, {utc(2026, 3, 28, 16, 40), 58, passed, 60},
        {utc(2026, 3, 28, 22, 30), 60, passed, 60}, {utc(2026, 3, 28, 23, 10), 62, passed, 62},
        {utc(2026, 3, 29, 1, 5), 62, cutShort, 62}, {utc(2026, 3, 29, 21, 30), 62, failed, 62},
        {utc(2026, 3, 29, 22, 10), 64, failed, 64}, {utc(2026, 3, 30, 16, 0), 64, failed, 64},
        {utc(2026, 3, 30, 16, 10), 62, failed, 62}, {utc(2026, 4, 1, 16, 0), 64, passed, 62},
        {utc(2026, 4, 2, 16, 0), 64, passed, 64},   {utc(2026, 4, 2, 16, 10), 64, passed, 64},
    };
    expectTable(rules, table, utc(2026, 4, 4, 10, 0), 66);
}

// Start 66; no step by take; a day after a passed take adds 3; three failures in a row take off 4, not below
// the start; ceiling 75; tolerance 1; the day begins at 4 in the morning. Zone Europe/Berlin: UTC + 2 h, from
// 2026-10-25 01:00 UTC on + 1 h, so Saturday's practice day ends at 25 03:00 UTC and lasts 25 hours.
//
// day (local)  take  UTC           planned  played   so afterwards
// Thu 22 Oct    1    22 16:00        66     66 pass
//               2    22 16:10        66     66 pass
//               3    22 16:20        66     66 fail  1 failure
// Fri 23 Oct    4    23 16:00        69     69 fail  66 + 3; 1 failure
//               5    23 16:10        69     69 fail  2 in a row
//               6    23 16:20        69     69 pass  row ended
//               7    23 16:30        69     69 fail  1
//               8    23 16:40        69     69 fail  2
//               9    23 16:50        69     69 fail  3 in a row: 65 is below the start: 66; day's start 66
// Sat 24 Oct   10    24 10:00        69     69 pass  Friday had a pass: 66 + 3
//              11    24 10:10        69     68 pass  1 below: counts
//              12    24 10:20        69   67.9 fail  more than 1 below: does not count
//              13    25 00:30        69     69 pass  02:30 local, summer time
//              14    25 01:30        69     69 fail  02:30 local again, winter time; 1 failure
//              15    25 02:30        69     69 fail  03:30 local, still Saturday's day (by summer time 4:30);
//                                                    2 in a row
// Sun 25 Oct   16    25 03:00        72     72 pass  04:00 local: 69 + 3
//              17    25 15:00        72     80 pass  far above the plan counts
//              18    26 02:59:59.999 72     72 fail  03:59:59.999 local; 1 failure
// Mon 26 Oct   19    26 03:00        75     75 pass  72 + 3 is the ceiling
// Tue 27 Oct   20    27 12:00        75     75 pass  the ceiling
// Wed 28 Oct         28 12:00        75
TEST(TempoPlanSession, TwentyTakesOverTheEndOfSummerTimeInBerlin) {
    TempoRules rules;
    rules.startBpm = 66.0;
    rules.stepPerTake = 0.0;
    rules.stepPerDay = 3.0;
    rules.failuresBeforeBack = 3;
    rules.stepBack = 4.0;
    rules.ceilingBpm = 75.0;
    rules.toleranceBpm = 1.0;
    rules.timeZone = "Europe/Berlin";
    rules.dayStartsAtHour = 4;
    const std::vector<Line> table = {
        {utc(2026, 10, 22, 16, 0), 66, passed, 66},  {utc(2026, 10, 22, 16, 10), 66, passed, 66},
        {utc(2026, 10, 22, 16, 20), 66, failed, 66}, {utc(2026, 10, 23, 16, 0), 69, failed, 69},
        {utc(2026, 10, 23, 16, 10), 69, failed, 69}, {utc(2026, 10, 23, 16, 20), 69, passed, 69},
        {utc(2026, 10, 23, 16, 30), 69, failed, 69}, {utc(2026, 10, 23, 16, 40), 69, failed, 69},
        {utc(2026, 10, 23, 16, 50), 69, failed, 69}, {utc(2026, 10, 24, 10, 0), 69, passed, 69},
        {utc(2026, 10, 24, 10, 10), 68, passed, 69}, {utc(2026, 10, 24, 10, 20), 67.9, failed, 69},
        {utc(2026, 10, 25, 0, 30), 69, passed, 69},  {utc(2026, 10, 25, 1, 30), 69, failed, 69},
        {utc(2026, 10, 25, 2, 30), 69, failed, 69},  {utc(2026, 10, 25, 3, 0), 72, passed, 72},
        {utc(2026, 10, 25, 15, 0), 80, passed, 72},  {utc(2026, 10, 26, 2, 59, 59'999), 72, failed, 72},
        {utc(2026, 10, 26, 3, 0), 75, passed, 75},   {utc(2026, 10, 27, 12, 0), 75, passed, 75},
    };
    expectTable(rules, table, utc(2026, 10, 28, 12, 0), 75);
}

// Start 80; every pass adds 2; a day after a passed take adds 1; two failures in a row take off 3, not below
// the start; ceiling 84. Zone America/New_York: UTC - 5 h, from 2026-03-08 07:00 UTC on - 4 h.
//
// day (local)  take  UTC           planned  played   so afterwards
// Fri  6 Mar    1     6 22:00        80     80 pass  82
//               2     6 22:10        82     82 pass  84
//               3     6 22:20        84     84 pass  the ceiling
//               4     6 22:30        84     84 fail  1 failure
//               5     6 22:40        84     84 fail  2 in a row: 81; the day's start stays 80
//               6     6 22:50        81     81 pass  83
//               7     7 04:59        83     83 pass  23:59 local; 85 is above the ceiling: 84
// Sat  7 Mar    8     7 05:00        81     81 pass  00:00 local; 80 + 1; then 83
//               9     7 05:10        83     83 fail  1 failure
//              10     7 05:20        83     83 pass  84
//              11     7 05:30        84     84 fail  1
//              12     7 05:40        84     84 fail  2 in a row: 81; the day's start stays 81
//              13     8 04:30        81     81 fail  23:30 local; 1 failure
// Sun  8 Mar   14     8 05:30        82     82 fail  00:30 local; 81 + 1; the counters began anew: 1
//              15     8 06:59        82     82 fail  01:59 local; 2 in a row: 79 is below the start: 80;
//                                                    day's start 80
//              16     8 07:00        80     80 pass  03:00 local, summer time; 82
//              17     9 03:59        82     82 pass  23:59 local, still Sunday; 84
// Mon  9 Mar   18     9 04:00        81     81 fail  00:00 local (by winter time Sunday 23:00); 80 + 1;
//                                                    1 failure
//              19     9 04:10        81     81 fail  2 in a row: 78 is below the start: 80; day's start 80
//              20     9 12:00        80     80 fail  1 failure
// Tue 10 Mar         10 12:00        80              no pass on Monday
TEST(TempoPlanSession, TwentyTakesOverTheBeginOfSummerTimeInNewYork) {
    TempoRules rules;
    rules.startBpm = 80.0;
    rules.stepPerTake = 2.0;
    rules.passesPerStep = 1;
    rules.stepPerDay = 1.0;
    rules.failuresBeforeBack = 2;
    rules.stepBack = 3.0;
    rules.ceilingBpm = 84.0;
    rules.timeZone = "America/New_York";
    const std::vector<Line> table = {
        {utc(2026, 3, 6, 22, 0), 80, passed, 80},  {utc(2026, 3, 6, 22, 10), 82, passed, 82},
        {utc(2026, 3, 6, 22, 20), 84, passed, 84}, {utc(2026, 3, 6, 22, 30), 84, failed, 84},
        {utc(2026, 3, 6, 22, 40), 84, failed, 84}, {utc(2026, 3, 6, 22, 50), 81, passed, 81},
        {utc(2026, 3, 7, 4, 59), 83, passed, 83},  {utc(2026, 3, 7, 5, 0), 81, passed, 81},
        {utc(2026, 3, 7, 5, 10), 83, failed, 83},  {utc(2026, 3, 7, 5, 20), 83, passed, 83},
        {utc(2026, 3, 7, 5, 30), 84, failed, 84},  {utc(2026, 3, 7, 5, 40), 84, failed, 84},
        {utc(2026, 3, 8, 4, 30), 81, failed, 81},  {utc(2026, 3, 8, 5, 30), 82, failed, 82},
        {utc(2026, 3, 8, 6, 59), 82, failed, 82},  {utc(2026, 3, 8, 7, 0), 80, passed, 80},
        {utc(2026, 3, 9, 3, 59), 82, passed, 82},  {utc(2026, 3, 9, 4, 0), 81, failed, 81},
        {utc(2026, 3, 9, 4, 10), 81, failed, 81},  {utc(2026, 3, 9, 12, 0), 80, failed, 80},
    };
    expectTable(rules, table, utc(2026, 3, 10, 12, 0), 80);
}

} // namespace valveladder
