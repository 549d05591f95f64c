#include "Guide/GuideEvents.h"
#include "Guide/DrillPosition.h"
#include "Guide/MidiEvent.h"
#include "Support/Scores.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <set>

namespace valveladder::test {
namespace {

TEST(GuideEvents, AreSortedAndEveryNoteOnHasItsNoteOff) {
    for (const Score& score : variedScores()) {
        const std::vector<GuideEvent> events = guideEvents(score, {});
        EXPECT_TRUE(std::is_sorted(events.begin(), events.end(), [](const auto& x, const auto& y) {
            return std::pair(x.tick, x.order) < std::pair(y.tick, y.order);
        }));
        EXPECT_LE(events.back().tick, score.length);
        std::map<std::pair<int, int>, int> open;
        for (const GuideEvent& event : events) {
            int& count = open[{event.bytes[0] & 0x0F, event.bytes[1]}];
            const int status = event.bytes[0] & 0xF0;
            count += status == 0x90 ? 1 : status == 0x80 ? -1 : 0;
            ASSERT_TRUE(count == 0 || count == 1);
        }
        for (const auto& [key, count] : open)
            EXPECT_EQ(count, 0);
    }
}

TEST(GuideEvents, SwitchesLeaveOutExactlyTheirPart) {
    const Score score = ladderScore();
    const auto parts = [&](const GuideSettings& settings) {
        std::set<GuidePart> found;
        for (const GuideEvent& event : guideEvents(score, settings))
            found.insert(event.part);
        return found;
    };
    GuideSettings settings;
    EXPECT_EQ(parts(settings).size(), 3U);
    settings.notes = false;
    EXPECT_EQ(parts(settings), (std::set{GuidePart::click, GuidePart::valveLanes}));
    settings.click = ClickWhen::off;
    EXPECT_EQ(parts(settings), (std::set{GuidePart::valveLanes}));
    settings.valveLanes = false;
    EXPECT_TRUE(parts(settings).empty());
}

TEST(GuideEvents, ClickInCountInOnlyStopsAtTheFirstNote) {
    const Score score = ladderScore();
    GuideSettings settings;
    settings.notes = settings.valveLanes = false;
    settings.click = ClickWhen::countInOnly;
    const auto events = guideEvents(score, settings);
    ASSERT_EQ(events.size(), 8U); // one bar of 4/4, on and off
    EXPECT_EQ(events[0].bytes, (std::array<std::uint8_t, 3>{0x99, 76, 112}));
    EXPECT_EQ(events[2].bytes[1], 77);
    EXPECT_LT(events.back().tick, score.countInTicks);
}

TEST(GuideEvents, WrittenPitchIsSentWhenAskedFor) {
    const Score score = ladderScore(); // B flat trumpet: written F#3 sounds E3
    GuideSettings settings;
    settings.click = ClickWhen::off;
    settings.valveLanes = false;
    EXPECT_EQ(guideEvents(score, settings).front().bytes[1], 52);
    settings.soundingPitch = false;
    EXPECT_EQ(guideEvents(score, settings).front().bytes[1], 54);
}

TEST(GuideEvents, LanesShowTheCombinationOfEveryNoteAndAreUpAtTheEndOfEverySpan) {
    for (const Score& score : variedScores()) {
        std::map<Tick, unsigned> after;
        unsigned lanes = 0;
        for (const GuideEvent& event : guideEvents(score, {})) {
            if (event.part != GuidePart::valveLanes)
                continue;
            const unsigned bit = 1U << (event.bytes[1] - firstValveController);
            lanes = event.bytes[2] == 127 ? lanes | bit : lanes & ~bit;
            after[event.tick] = lanes;
        }
        const auto at = [&](Tick tick) {
            const auto next = after.upper_bound(tick);
            return next == after.begin() ? 0U : std::prev(next)->second;
        };
        std::set<Tick> onsets;
        for (const ScoreNote& note : score.notes) {
            EXPECT_EQ(at(note.onset), note.combination.bits());
            onsets.insert(note.onset);
        }
        for (const ScoreSpan& span : score.spans)
            EXPECT_TRUE(onsets.count(span.end) == 1 || at(span.end) == 0U);
        EXPECT_EQ(lanes, 0U);
    }
}

TEST(DrillPosition, LapsFollowEachOtherFromTheStart) {
    const Score score = smallScore({{4.0, 1.0, 60, Combination{}}}); // 8 quarters
    GuideSettings settings;
    settings.startPpq = 2.0;
    EXPECT_FALSE(drillPosition(score, settings, 1.9).inside);
    EXPECT_EQ(drillPosition(score, settings, 2.0).tick, 0);
    const DrillPosition second = drillPosition(score, settings, 11.0);
    EXPECT_TRUE(second.inside);
    EXPECT_EQ(second.lap, 1);
    EXPECT_EQ(second.tick, ticksPerQuarter);
    EXPECT_EQ(drillPosition(score, settings, 10.0 - 1e-12).lap, 1) << "a host's rounding";
    settings.repeat = false;
    EXPECT_FALSE(drillPosition(score, settings, 11.0).inside);
    EXPECT_EQ(drillPosition(score, settings, 11.0).tick, score.length);
    EXPECT_FALSE(drillPosition(score, settings, std::nan("")).inside);
    EXPECT_FALSE(drillPosition(Score{}, settings, 3.0).inside);
}

TEST(DrillPosition, WindowOfALapLeavesTheCountInOut) {
    const Score score = smallScore({{4.0, 1.0, 60, Combination{}}, {5.0, 2.0, 62, Combination{}}});
    GuideSettings settings;
    settings.startPpq = 2.0;
    const DrillWindow window = drillWindow(score, settings, 11.0);
    EXPECT_EQ(window.lap, 1);
    EXPECT_DOUBLE_EQ(window.startPpq, 14.0);
    EXPECT_DOUBLE_EQ(window.endPpq, 17.0);
    EXPECT_DOUBLE_EQ(window.lapQuarters, 8.0);
    EXPECT_DOUBLE_EQ(drillWindow(score, settings, -50.0).startPpq, 6.0);
    const DrillWindow none = drillWindow(Score{}, settings, 3.0);
    EXPECT_DOUBLE_EQ(none.startPpq, none.endPpq);
}

} // namespace
} // namespace valveladder::test
