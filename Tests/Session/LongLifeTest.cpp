// Thousands of takes in a day: memory and cost at the end are those of the beginning.
#include "Session/SoundStage.h"
#include "Support/MemoryInUse.h"
#include "Support/SqlSteps.h"

#include <gtest/gtest.h>

#include <cmath>
#include <cstdlib>
#include <iostream>

namespace valveladder {

namespace {

using testing::SoundStage;
using testing::SqlSteps;

int takesOfADay() {
    return std::getenv("VALVE_LADDER_FULL") != nullptr ? 10000 : 200;
}

SessionConfig oneCell() {
    SessionConfig config;
    config.drill.pattern = CellPattern{{{60, 62}}};
    config.drill.segments.resize(1);
    config.rules.startBpm = 200.0;
    config.rules.ceilingBpm = 200.0;
    config.rules.timeZone = "Etc/UTC";
    return config;
}

void playKeys(SoundStage& stage) {
    const auto key = [&](double quarter, int status, int note) {
        MidiEvent event;
        event.bytes = {static_cast<std::uint8_t>(status), static_cast<std::uint8_t>(note), 100};
        stage.keys.emplace(std::llround(quarter * 60.0 / stage.bpm * stage.rate), event);
    };
    for (const ScoreNote& note : stage.score().notes) {
        key(static_cast<double>(note.onset) / ticksPerQuarter, 0x90, note.sounding);
        key(static_cast<double>(note.onset + note.gate * 9 / 10) / ticksPerQuarter, 0x80, note.sounding);
    }
}

} // namespace

TEST(LongLife, ADayOfThousandsOfTakesCostsTheSameAtItsEnd) {
    SqlSteps steps;
    SoundStage stage(oneCell());
    stage.bpm = 200.0;
    playKeys(stage);
    const int takes = takesOfADay();
    const int tenth = takes / 10;
    std::vector<double> stepsATake;
    std::vector<double> megabytes;
    (void)steps.take();
    for (int i = 1; i <= takes; ++i) {
        stage.rewind();
        stage.rollTo(stage.lapQuarters());
        stage.stop(40);
        if (i % tenth != 0)
            continue;
        stepsATake.push_back(static_cast<double>(steps.take()) / tenth);
        megabytes.push_back(static_cast<double>(testing::memoryInUse()) / 1e6);
        std::cout << "after take " << i << ": " << stepsATake.back() << " steps a take, " << megabytes.back()
                  << " MB\n";
    }
    EXPECT_EQ(stage.takes().size(), static_cast<std::size_t>(takes));
    EXPECT_LT(stepsATake.back(), 1.2 * stepsATake[1]);
    constexpr double mostGrowthMb = 20.0;
    EXPECT_LT(megabytes.back(), megabytes[1] + mostGrowthMb);
}

} // namespace valveladder
