#include "Findings/SideBySide.h"
#include "Reports/SideBySideReport.h"
#include "Support/FindingsTrials.h"

#include <gtest/gtest.h>
#include <nlohmann/json.hpp>

#include <algorithm>
#include <cmath>

namespace valveladder {
namespace {

using namespace simulated;

struct Takes {
    Drill drill = fullDrill(trialInstrument());
    Score score = buildScore(drill, trialInstrument(), 66.0).value();
    std::vector<Performance> played;

    Takes(int count, std::uint64_t seed) {
        Player player({}, {}, seed);
        for (int i = 0; i < count; ++i)
            played.push_back(player.play(drill, trialInstrument(), score));
    }
    SideGroup group(const std::string& label, std::size_t first, std::size_t last, double bpm = 66.0) const {
        SideGroup one{label, bpm, {}};
        for (std::size_t i = first; i < last; ++i)
            one.takes.push_back(&played[i]);
        return one;
    }
};

void slowDown(Performance& take, int note, double ms) {
    for (auto& change : take.changes)
        if (change.toIndex == note && change.changeoverMs)
            *change.changeoverMs += ms;
}

int countBeyond(const SideBySide& sides, NoteMeasure measure) {
    return static_cast<int>(
        std::ranges::count_if(sides.overall[0].changes[static_cast<std::size_t>(measure)],
                              [](const ComparedChange& one) { return one.beyondChance; }));
}

TEST(SideBySide, OneChangeThatDiffersIsNamedAlone) {
    Takes takes(2, 1);
    const Change slow = takes.score.changeInto(42);
    for (const auto& change : takes.played[1].changes)
        if (change.change == slow)
            slowDown(takes.played[1], change.toIndex, 60.0);
    const auto sides = sideBySide(takes.score, {takes.group("Monday", 0, 1), takes.group("Tuesday", 1, 2)});
    const auto& changes = sides.overall[0].changes[static_cast<std::size_t>(NoteMeasure::changeover)];
    const auto found = std::ranges::find(changes, slow, &ComparedChange::change);
    ASSERT_NE(found, changes.end());
    EXPECT_TRUE(found->beyondChance);
    EXPECT_NEAR(found->difference.value, 60.0, 25.0);
    EXPECT_EQ(countBeyond(sides, NoteMeasure::changeover), 1);
    EXPECT_NE(sideText(sides, false).find("Tuesday against Monday"), std::string::npos);
    EXPECT_NE(sideText(sides, false).find("longer, more than chance. 90 % interval "), std::string::npos);
}

// Two takes of the same player differ by chance alone: hardly ever may a change be said to differ.
TEST(SideBySide, TakesThatDifferByChanceShowNoChange) {
    const int pairs = trialSize(400, 60);
    int any = 0;
    for (int i = 0; i < pairs; ++i) {
        const Takes takes(2, 100 + static_cast<std::uint64_t>(i));
        const auto sides = sideBySide(takes.score, {takes.group("a", 0, 1), takes.group("b", 1, 2)});
        any += countBeyond(sides, NoteMeasure::changeover) > 0 ? 1 : 0;
    }
    // Under no difference the chance of any is the share itself.
    EXPECT_LE(any, changesFalseShare * pairs + 3.1 * std::sqrt(0.05 * 0.95 * pairs) + 1.0);
}

TEST(SideBySide, DaysAreComparedByTheirMeans) {
    Takes takes(6, 2);
    for (std::size_t i = 3; i < 6; ++i)
        for (auto& change : takes.played[i].changes)
            if (change.changeoverMs)
                *change.changeoverMs -= 30.0;
    const auto sides =
        sideBySide(takes.score, {takes.group("first day", 0, 3), takes.group("last day", 3, 6, 72.0)});
    const auto& overall = sides.overall[0].difference[static_cast<std::size_t>(NoteMeasure::changeover)];
    EXPECT_NEAR(overall.value, -30.0, 20.0); // each take shifts by 8 ms of its own
    EXPECT_LT(overall.high, 0.0);
    EXPECT_DOUBLE_EQ(sides.bpm[1], 72.0);
    EXPECT_GT(overall.n, 100);
}

TEST(SideBySide, CsvHasARowForEachNoteAndGroup) {
    const Takes takes(2, 3);
    const auto sides =
        sideBySide(takes.score, {takes.group("a \"quoted\", label", 0, 1), takes.group("b", 1, 2)});
    const auto csv = sideCsv(sides, takes.score, catalogue().front());
    EXPECT_EQ(static_cast<std::size_t>(std::count(csv.begin(), csv.end(), '\n')),
              1 + 2 * takes.score.notes.size());
    EXPECT_NE(csv.find("\"a \"\"quoted\"\", label\""), std::string::npos);
    const std::string header = csv.substr(0, csv.find("\r\n"));
    const std::size_t second = csv.find("\r\n") + 2;
    const std::string row = csv.substr(csv.find("\r\n", second) + 2);
    const std::string lastOfNote = row.substr(0, row.find("\r\n"));
    EXPECT_EQ(std::count(header.begin(), header.end(), ','),
              std::count(lastOfNote.begin(), lastOfNote.end(), ','));
}

TEST(SideBySide, JsonHoldsEveryNote) {
    const Takes takes(2, 4);
    const auto sides = sideBySide(takes.score, {takes.group("a", 0, 1), takes.group("b", 1, 2)});
    const auto json = nlohmann::json::parse(sideJson(sides, takes.score, catalogue().front()));
    EXPECT_EQ(json["notes"].size(), takes.score.notes.size());
    EXPECT_EQ(json["groups"][1]["label"], "b");
    EXPECT_TRUE(json["groups"][1]["againstFirst"]["deviation"].contains("low"));
}

TEST(SideBySide, PictureIsWellFormedAndEscapesLabels) {
    const Takes takes(2, 5);
    const auto sides = sideBySide(takes.score, {takes.group("a<b>&c", 0, 1), takes.group("b", 1, 2)});
    const auto svg = sideSvg(sides, takes.score, catalogue().front(), NoteMeasure::deviation);
    EXPECT_EQ(svg.rfind("<svg", 0), 0u);
    EXPECT_NE(svg.find("a&lt;b&gt;&amp;c"), std::string::npos);
    EXPECT_NE(svg.find("</svg>"), std::string::npos);
}

TEST(SideBySide, NothingToCompareIsNoError) {
    const Takes takes(1, 6);
    EXPECT_TRUE(sideBySide(takes.score, {}).labels.empty());
    const auto alone = sideBySide(takes.score, {takes.group("alone", 0, 1)});
    EXPECT_TRUE(alone.overall.empty());
    EXPECT_NE(sideText(alone, false).find("alone"), std::string::npos);
    const auto empty = sideBySide(takes.score, {takes.group("a", 0, 1), {"none", 60.0, {}}});
    EXPECT_EQ(empty.overall[0].difference[0].n, 0);
}

} // namespace
} // namespace valveladder
