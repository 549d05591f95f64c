// A long session in the demo host, time as fast as it goes: what it costs at its end is what it cost at its
// beginning. The player is invented.
#include "Demo/DemoHost.h"
#include "Host/HostRig.h"
#include "Host/TempLog.h"
#include "Invented/InventedPlayer.h"
#include "Log/LogStore.h"
#include "Plugin/State.h"
#include "Support/MemoryInUse.h"

#include <gtest/gtest.h>

#include <chrono>
#include <cstdlib>
#include <ctime>
#include <iostream>
#include <thread>

namespace valveladder::host {

namespace {

/// Of the transport.
double sessionSeconds() {
    return (std::getenv("VALVE_LADDER_FULL") != nullptr ? 10.0 : 0.5) * 3600.0;
}

SessionConfig oneRung() {
    SessionConfig config;
    config.player = "Invented player";
    config.invented = true;
    LadderPattern ladder;
    ladder.lastTop = ladder.firstTop;
    config.drill.pattern = ladder;
    config.rules.startBpm = 120.0;
    return config;
}

double processorSeconds() {
    timespec now{};
    clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &now);
    return static_cast<double>(now.tv_sec) + 1e-9 * static_cast<double>(now.tv_nsec);
}

/// What the session held and used after each tenth of its takes.
struct Tenth {
    double secondsATake = 0.0;
    double megabytes = 0.0;
};

} // namespace

TEST(LongLife, ASessionOfHoursKeepsItsMemoryAndItsQueue) {
    if (!std::filesystem::exists(builtPlugin(Format::vst3)))
        GTEST_SKIP() << "this build has no VST3";
    const TempLog log;
    auto loaded = DemoHost::load(builtPlugin(Format::vst3));
    ASSERT_TRUE(loaded.ok()) << loaded.problem().text();
    DemoHost& host = *loaded.value();
    const SessionConfig config = oneRung();
    host.setState(toStateText({config, {}}));
    const Score score = buildScore(config.drill, config.instrument, 120.0).value();
    const double quarters = static_cast<double>(score.spans.back().end) / ticksPerQuarter + 1.0;
    const int takes = static_cast<int>(sessionSeconds() / (quarters * 60.0 / 120.0)) + 1;
    InventedPlayer player(1);
    std::vector<Tenth> tenths;
    double begun = processorSeconds();
    for (int i = 0; i < takes; ++i) {
        const DemoForm form{8.0, -10.0, 25.0, i % 3 == 0 ? 1 : 0, 0};
        ASSERT_GE(host.recordTake(120.0, quarters, player.play(score, 120.0, form)),
                  static_cast<int>(score.notes.size()));
        if ((i + 1) % std::max(1, takes / 10) != 0)
            continue;
        const double now = processorSeconds();
        tenths.push_back(
            {(now - begun) / std::max(1, takes / 10), static_cast<double>(testing::memoryInUse()) / 1e6});
        begun = now;
        std::cout << "after take " << i + 1 << ": " << tenths.back().megabytes << " MB, "
                  << 1000.0 * tenths.back().secondsATake << " ms of processor a take\n";
    }
    loaded.value().reset(); // the plugin goes, and all that it heard is in the log
    const auto store = LogStore::openReadOnly(log.log());
    ASSERT_TRUE(store.ok());
    const auto kept = store.value()->takes({}).value();
    EXPECT_EQ(kept.size(), static_cast<std::size_t>(takes));
    for (const TakeSummary& take : kept)
        EXPECT_EQ(take.state, TakeState::whole);
    constexpr double mostGrowthMb = 30.0;
    ASSERT_GE(tenths.size(), 10U);
    EXPECT_LT(tenths.back().megabytes, tenths[4].megabytes + mostGrowthMb) << "over its second half";
}

} // namespace valveladder::host
