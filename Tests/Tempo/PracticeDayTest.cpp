#include "PlanSupport.h"

#include "Tempo/PracticeDay.h"

#include <gtest/gtest.h>

#include <limits>

namespace valveladder {

using plansupport::dayNumber;
using plansupport::utc;
using plansupport::ZoneOfMachine;

namespace {

TempoRules in(const char* zone, int dayStartsAtHour = 0) {
    TempoRules rules;
    rules.timeZone = zone;
    rules.dayStartsAtHour = dayStartsAtHour;
    return rules;
}

} // namespace

// Offsets and changes: IANA time zone database, as tzdata gives it.
TEST(PracticeDay, MidnightIsTheZonesOwnInWinterAndSummer) {
    const TempoRules berlin = in("Europe/Berlin");
    EXPECT_EQ(practiceDay(berlin, utc(2026, 1, 1, 22, 59)), dayNumber(2026, 1, 1));
    EXPECT_EQ(practiceDay(berlin, utc(2026, 1, 1, 23, 0)), dayNumber(2026, 1, 2));
    EXPECT_EQ(practiceDay(berlin, utc(2026, 7, 1, 21, 59)), dayNumber(2026, 7, 1));
    EXPECT_EQ(practiceDay(berlin, utc(2026, 7, 1, 22, 0)), dayNumber(2026, 7, 2));
    EXPECT_EQ(practiceDay(in("Asia/Kathmandu"), utc(2026, 7, 1, 18, 15)), dayNumber(2026, 7, 2));
    EXPECT_EQ(practiceDay(in("Asia/Kathmandu"), utc(2026, 7, 1, 18, 14)), dayNumber(2026, 7, 1));
}

TEST(PracticeDay, DaysWithAClockChangeLast23And25Hours) {
    const TempoRules berlin = in("Europe/Berlin");
    EXPECT_EQ(practiceDay(berlin, utc(2026, 3, 28, 23, 0)), dayNumber(2026, 3, 29));
    EXPECT_EQ(practiceDay(berlin, utc(2026, 3, 29, 21, 59)), dayNumber(2026, 3, 29));
    EXPECT_EQ(practiceDay(berlin, utc(2026, 3, 29, 22, 0)), dayNumber(2026, 3, 30));
    EXPECT_EQ(practiceDay(berlin, utc(2026, 10, 24, 22, 0)), dayNumber(2026, 10, 25));
    EXPECT_EQ(practiceDay(berlin, utc(2026, 10, 25, 22, 59)), dayNumber(2026, 10, 25));
    EXPECT_EQ(practiceDay(berlin, utc(2026, 10, 25, 23, 0)), dayNumber(2026, 10, 26));
}

TEST(PracticeDay, HourIsReadOffTheWallClock) {
    const TempoRules late = in("America/New_York", 4);
    EXPECT_EQ(practiceDay(late, utc(2026, 11, 1, 7, 59)), dayNumber(2026, 10, 31)); // 02:59, after the change
    EXPECT_EQ(practiceDay(late, utc(2026, 11, 1, 8, 59)), dayNumber(2026, 10, 31)); // 03:59
    EXPECT_EQ(practiceDay(late, utc(2026, 11, 1, 9, 0)), dayNumber(2026, 11, 1));   // 04:00
}

// Samoa went from 29 December 2011 straight to the 31st (IANA tzdata, Pacific/Apia).
TEST(PracticeDay, DayThatAZoneLeftOutNeverComes) {
    const TempoRules apia = in("Pacific/Apia");
    EXPECT_EQ(practiceDay(apia, utc(2011, 12, 30, 9, 59)), dayNumber(2011, 12, 29));
    EXPECT_EQ(practiceDay(apia, utc(2011, 12, 30, 10, 0)), dayNumber(2011, 12, 31));
}

TEST(PracticeDay, EndsOfTimeDoNotOverflow) {
    for (const UtcMs time : {std::numeric_limits<UtcMs>::min(), std::numeric_limits<UtcMs>::max()})
        for (const char* zone : {"Europe/Berlin", "Pacific/Kiritimati", "Etc/UTC", "No/Such"}) {
            const std::int64_t day = practiceDay(in(zone, 12), time);
            EXPECT_GE(day, dayNumber(1, 1, 1));
            EXPECT_LE(day, dayNumber(9999, 12, 31));
        }
}

TEST(PracticeDay, UnknownZoneCountsAsUtc) {
    EXPECT_EQ(practiceDay(in("No/Such"), utc(2026, 7, 1, 23, 59)), dayNumber(2026, 7, 1));
    EXPECT_FALSE(knownTimeZone("No/Such"));
    EXPECT_TRUE(knownTimeZone(""));
}

TEST(PracticeDay, ATakeIsOfTheDayOfTheRulesZoneElseOfItsOwnElseOfTheMachines) {
    const ZoneOfMachine machine("America/New_York");
    const UtcMs evening = utc(2026, 7, 1, 22, 30);
    EXPECT_EQ(PracticeCalendar(in("Etc/UTC")).dayOfTake(evening, "Europe/Berlin"), dayNumber(2026, 7, 1));
    const PracticeCalendar unnamed(in(""));
    EXPECT_EQ(unnamed.dayOfTake(evening, "Europe/Berlin"), dayNumber(2026, 7, 2));
    EXPECT_EQ(unnamed.dayOfTake(evening, ""), dayNumber(2026, 7, 1));
    EXPECT_EQ(unnamed.dayOfTake(utc(2026, 7, 2, 3, 30), "No/Such"), dayNumber(2026, 7, 1));
    EXPECT_EQ(unnamed.day(evening), dayNumber(2026, 7, 1));
    EXPECT_EQ(PracticeCalendar(in("", 4)).dayOfTake(evening, "Europe/Berlin"), dayNumber(2026, 7, 1));
}

TEST(LocalTimeZone, EnvironmentGoesFirstAndNonsenseInItIsPassedOver) {
    {
        const ZoneOfMachine machine("Asia/Tokyo");
        EXPECT_EQ(localTimeZone(), "Asia/Tokyo");
    }
    {
        const ZoneOfMachine machine(":America/New_York");
        EXPECT_EQ(localTimeZone(), "America/New_York");
    }
    const ZoneOfMachine machine("Middle/Earth");
    EXPECT_NE(localTimeZone(), "Middle/Earth");
    EXPECT_TRUE(knownTimeZone(localTimeZone()));
}

} // namespace valveladder
