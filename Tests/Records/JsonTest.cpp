#include "Records/Json.h"

#include "Log/RandomTakes.h"

#include <gtest/gtest.h>

#include <limits>

namespace valveladder {

namespace {

constexpr int seeds = 300;

/// The member that a refusal names, or what it was instead.
template <typename T>
std::string refusedAt(const Result<T>& result) {
    return result.ok() ? "accepted" : result.problem().where;
}

std::string replaced(std::string text, const std::string& from, const std::string& to) {
    const std::size_t at = text.find(from);
    EXPECT_NE(at, std::string::npos) << from;
    return at == std::string::npos ? text : text.replace(at, from.size(), to);
}

} // namespace

TEST(Json, DrillComesBackAsItWas) {
    for (std::uint64_t seed = 0; seed < seeds; ++seed) {
        const Drill drill = RandomTakes(seed).drill();
        const auto back = drillFromJson(toJson(drill));
        ASSERT_TRUE(back.ok()) << "seed " << seed << ": " << back.problem().text();
        ASSERT_EQ(back.value(), drill) << "seed " << seed;
    }
}

TEST(Json, InstrumentComesBackAsItWas) {
    for (std::uint64_t seed = 0; seed < seeds; ++seed) {
        const Instrument instrument = RandomTakes(seed).instrument();
        const auto back = instrumentFromJson(toJson(instrument));
        ASSERT_TRUE(back.ok()) << "seed " << seed << ": " << back.problem().text();
        ASSERT_EQ(back.value(), instrument) << "seed " << seed;
    }
}

TEST(Json, EveryInstrumentOfTheCatalogueComesBackAsItWas) {
    for (const Instrument& instrument : catalogue()) {
        const auto back = instrumentFromJson(toJson(instrument));
        ASSERT_TRUE(back.ok()) << instrument.id << ": " << back.problem().text();
        EXPECT_EQ(back.value(), instrument) << instrument.id;
    }
}

TEST(Json, TempoRulesComeBackAsTheyWere) {
    for (std::uint64_t seed = 0; seed < seeds; ++seed) {
        const TempoRules rules = RandomTakes(seed).rules();
        const auto back = rulesFromJson(toJson(rules));
        ASSERT_TRUE(back.ok()) << "seed " << seed << ": " << back.problem().text();
        ASSERT_EQ(back.value(), rules) << "seed " << seed;
    }
}

TEST(Json, TakeComesBackAsItWasFromOneLine) {
    for (std::uint64_t seed = 0; seed < seeds; ++seed) {
        RandomTakes random(seed);
        const TakeRecord take = random.take(random.whole(0, 40));
        const std::string text = toJson(take);
        ASSERT_EQ(text.find('\n'), std::string::npos) << "seed " << seed;
        const auto back = takeFromJson(text);
        ASSERT_TRUE(back.ok()) << "seed " << seed << ": " << back.problem().text();
        ASSERT_EQ(back.value(), take) << "seed " << seed;
    }
}

TEST(Json, HeaderOfAnOpenTakeComesBackAsItWas) {
    for (std::uint64_t seed = 0; seed < seeds; ++seed) {
        const TakeHeader header = RandomTakes(seed).header();
        const auto back = takeHeaderFromJson(toJson(header));
        ASSERT_TRUE(back.ok()) << "seed " << seed << ": " << back.problem().text();
        ASSERT_EQ(back.value(), header) << "seed " << seed;
    }
}

TEST(Json, AbsentMembersTakeTheirDefaults) {
    const auto drill = drillFromJson(R"({"format": "valve-ladder-drill", "version": 1, "repeats": 3})");
    ASSERT_TRUE(drill.ok()) << drill.problem().text();
    Drill expected;
    expected.repeats = 3;
    EXPECT_EQ(drill.value(), expected);

    const auto rules = rulesFromJson(R"({"format": "valve-ladder-tempo-rules"})");
    ASSERT_TRUE(rules.ok()) << rules.problem().text();
    EXPECT_EQ(rules.value(), TempoRules{});
}

TEST(Json, AbsentTubesAreZeroNotWhateverLayInMemory) {
    const auto instrument =
        instrumentFromJson(R"({"format": "valve-ladder-instrument", "sides": [{"name": "F"}]})");
    ASSERT_TRUE(instrument.ok()) << instrument.problem().text();
    EXPECT_EQ(instrument.value().sides.at(0).tubes, (std::array<double, maxValves>{}));
}

TEST(Json, WholeNumbersMayBeWrittenWithAPoint) {
    const auto drill = drillFromJson(R"({"format": "valve-ladder-drill", "repeats": 4.0})");
    ASSERT_TRUE(drill.ok()) << drill.problem().text();
    EXPECT_EQ(drill.value().repeats, 4);
}

TEST(Json, WrongTypesAreRefusedWithTheMembersPath) {
    const auto drill = [](const std::string& member) {
        return refusedAt(drillFromJson(R"({"format": "valve-ladder-drill", )" + member + "}"));
    };
    EXPECT_EQ(drill(R"("repeats": "three")"), "repeats");
    EXPECT_EQ(drill(R"("repeats": 2.5)"), "repeats");
    EXPECT_EQ(drill(R"("repeats": null)"), "repeats");
    EXPECT_EQ(drill(R"("repeats": 99999999999)"), "repeats");
    EXPECT_EQ(drill(R"("repeats": 1e300)"), "repeats");
    EXPECT_EQ(drill(R"("breathSeconds": true)"), "breathSeconds");
    EXPECT_EQ(drill(R"("segments": {})"), "segments");
    EXPECT_EQ(drill(R"("segments": [{"slurred": true}, {"slurred": 1}])"), "segments[1].slurred");
    EXPECT_EQ(drill(R"("segments": [{"rhythm": {"shares": [1, "x"]}}])"), "segments[0].rhythm.shares[1]");
    EXPECT_EQ(drill(R"("segments": [{"touch": "hard"}])"), "segments[0].touch");
    EXPECT_EQ(drill(R"("ladder": {"growth": 7})"), "ladder.growth");
    EXPECT_EQ(drill(R"("cells": [[60], 61])"), "cells[1]");
    EXPECT_EQ(drill(R"("fingering": {"byHand": [{"valves": "1-5"}]})"), "fingering.byHand[0].valves");
    EXPECT_EQ(drill(R"("ladder": {}, "cells": [])"), "ladder");
}

// A rung without a shape went up before rungs went both ways by default, and still does.
TEST(Json, OldDrillsReadAsTheyDid) {
    const auto ladder = drillFromJson(R"({"format": "valve-ladder-drill", "version": 1,
        "ladder": {"foot": 54, "firstTop": 60, "lastTop": 62, "growth": "shift"}})");
    ASSERT_TRUE(ladder.ok()) << ladder.problem().text();
    EXPECT_EQ(std::get<LadderPattern>(ladder.value().pattern).shape, Shape::up);
    const auto bare = drillFromJson(R"({"format": "valve-ladder-drill", "version": 1})");
    ASSERT_TRUE(bare.ok()) << bare.problem().text();
    EXPECT_EQ(std::get<LadderPattern>(bare.value().pattern).shape, Shape::up);
    const auto cells =
        drillFromJson(R"({"format": "valve-ladder-drill", "version": 1, "cells": [[64, 66]]})");
    ASSERT_TRUE(cells.ok()) << cells.problem().text();
    EXPECT_EQ(std::get<CellPattern>(cells.value().pattern), (CellPattern{{{64, 66}}}));
    EXPECT_NE(toJson(cells.value()).find("64"), std::string::npos);
    EXPECT_EQ(toJson(cells.value()).find("valves\": ["), std::string::npos); // an old program reads it too
}

TEST(Json, UnknownMembersAreRefusedByName) {
    EXPECT_EQ(refusedAt(drillFromJson(R"({"format": "valve-ladder-drill", "repeat": 3})")), "\"repeat\"");
    EXPECT_EQ(refusedAt(drillFromJson(R"({"format": "valve-ladder-drill", "meter": {"beat": 3}})")),
              "meter.\"beat\"");
}

TEST(Json, OtherFormatsAreRefused) {
    EXPECT_EQ(refusedAt(drillFromJson("{}")), "format");
    EXPECT_EQ(refusedAt(drillFromJson(toJson(TempoRules{}))), "format");
    EXPECT_EQ(refusedAt(takeFromJson(toJson(Drill{}))), "format");
    EXPECT_EQ(refusedAt(drillFromJson("[]")), "the whole text");
}

TEST(Json, NewerVersionsAreRefusedWithBothNumbers) {
    const auto result = drillFromJson(replaced(toJson(Drill{}), R"("version": 1)", R"("version": 7)"));
    ASSERT_FALSE(result.ok());
    EXPECT_EQ(result.problem().where, "version");
    EXPECT_NE(result.problem().what.find('7'), std::string::npos);
    EXPECT_NE(result.problem().what.find('1'), std::string::npos);
    EXPECT_EQ(refusedAt(drillFromJson(replaced(toJson(Drill{}), R"("version": 1)", R"("version": 0)"))),
              "version");
}

TEST(Json, TakeWithoutIdIsRefused) {
    EXPECT_EQ(refusedAt(takeFromJson(R"({"format": "valve-ladder-take"})")), "id");
}

TEST(Json, FiguresThatAreNotFiniteAreWrittenAsAbsentOrZero) {
    TakeRecord take = RandomTakes(1).take(1);
    take.playedBpm = std::numeric_limits<double>::quiet_NaN();
    take.roundTripMs = std::numeric_limits<double>::infinity();
    const auto back = takeFromJson(toJson(take));
    ASSERT_TRUE(back.ok()) << back.problem().text();
    EXPECT_EQ(back.value().playedBpm, 0.0);
    EXPECT_EQ(back.value().roundTripMs, std::nullopt);
}

TEST(Json, HostileTextsAreRefused) {
    const std::string deep(1000000, '[');
    std::string crowded = R"({"format": "valve-ladder-drill")";
    for (int i = 0; i < 1000; ++i)
        crowded += ", \"m" + std::to_string(i) + "\": 0";
    const std::vector<std::string> texts{
        "",
        "nonsense",
        "{",
        R"({"format": "valve-ladder-drill", "breathSeconds": NaN})",
        R"({"format": "valve-ladder-drill", "breathSeconds": 1e999})",
        R"({"format": "valve-ladder-drill", "breathSeconds": -1e999})",
        R"({"format": "valve-ladder-drill", "repeats": 123456789012345678901234567890})",
        "{\"format\": \"valve-ladder-drill\", \"name\": \"\xC3\x28\"}",
        "{\"format\": \"valve-ladder-drill\", \"name\": \"\xED\xA0\x80\"}",
        R"({"format": "valve-ladder-drill", "name": "\ud800"})",
        std::string("{\"format\": \"valve-ladder-drill\"}\0{}", 36),
        deep,
        R"({"a": )" + deep,
        crowded + "}",
        std::string((64U << 20U) + 1U, ' '),
    };
    for (const std::string& text : texts) {
        const auto result = drillFromJson(text);
        ASSERT_FALSE(result.ok()) << text.substr(0, 80);
        EXPECT_FALSE(result.problem().what.empty()) << text.substr(0, 80);
        EXPECT_FALSE(result.problem().where.empty()) << text.substr(0, 80);
        EXPECT_FALSE(result.problem().remedy.empty()) << text.substr(0, 80);
    }
}

TEST(Json, DamageIsSaidBeforeWhatAndWhereItIs) {
    for (const char* text : {"", "nonsense", "{", "[1, 2]"}) {
        const Problem problem = drillFromJson(text).problem();
        EXPECT_TRUE(problem.what.starts_with("the text is damaged, or not one of Valve Ladder's: ")) << text;
        EXPECT_EQ(problem.remedy, "Use a whole file written by Valve Ladder") << text;
    }
    EXPECT_EQ(drillFromJson("{").problem().where, "byte 2");
}

TEST(Json, TextBrokenAnywhereIsReadOrRefusedButNeverWorse) {
    int refused = 0;
    for (std::uint64_t seed = 0; seed < seeds; ++seed) {
        RandomTakes random(seed);
        std::string text = toJson(random.take(3));
        for (int i = random.whole(1, 6); i > 0; --i)
            text[static_cast<std::size_t>(random.whole(0, static_cast<int>(text.size()) - 1))] =
                static_cast<char>(random.whole(0, 255));
        const auto result = takeFromJson(text);
        if (result.ok())
            EXPECT_TRUE(takeFromJson(toJson(result.value())).ok()) << "seed " << seed;
        else
            ++refused;
    }
    EXPECT_GT(refused, seeds / 2); // most damage is noticed
}

TEST(Json, TextCutShortIsRefused) {
    const std::string text = toJson(RandomTakes(5).take(2));
    for (std::size_t length = 0; length < text.size(); length += 7)
        ASSERT_FALSE(takeFromJson(text.substr(0, length)).ok()) << length;
}

} // namespace valveladder
