// The built LV2 as its host's audio thread runs it, JUCE's client and our entry before it included.

#include "Host/AudioThreadWatch.h"
#include "Host/HostRig.h"
#include "Host/Lv2Rig.h"
#include "Host/TempLog.h"

#include <gtest/gtest.h>

#include <array>
#include <filesystem>

namespace valveladder::host {

namespace {

constexpr double rate = 48000.0;
constexpr int longest = 1024;

TimeReport rolling(std::int64_t frame) {
    TimeReport report;
    report.frame = frame;
    report.bar = 0;
    report.barBeat = static_cast<double>(frame) / rate * 2.0;
    report.beatsPerBar = 4.0;
    report.beatUnit = 4;
    report.beatsPerMinute = 120.0;
    report.speed = 1.0;
    return report;
}

} // namespace

// As hosts divide their cycles: at loops, at steps of the tempo, at other speeds.
TEST(AudioThreadLv2, BlocksOfEveryLengthInEveryOrderAreClean) {
    if (!canWatch())
        GTEST_SKIP() << "allocations and locks cannot be intercepted on this system or under a sanitizer";
    if (!std::filesystem::exists(builtPlugin(Format::lv2)))
        GTEST_SKIP() << "this build has no LV2";
    const TempLog log;
    std::string error;
    const auto rig = Lv2Rig::load(rate, longest, error);
    ASSERT_NE(rig, nullptr) << error;
    Offences seen;
    rig->aroundRun = [&seen](const std::function<void()>& run) {
        const AudioThreadWatch watch;
        run();
        seen += AudioThreadWatch::offences();
    };
    const MidiEvent note{.sample = 0, .bytes = {0x90, 60, 100}};
    int blocks = 0;
    for (int round = 0; round < 40; ++round)
        for (const int samples : {longest, 204, 256, 1, 64, 820, 16, longest}) {
            rig->run(samples, {rolling(rig->samplesRun())}, {note});
            ++blocks;
        }
    EXPECT_EQ(seen.allocations, 0);
    EXPECT_EQ(seen.frees, 0);
    EXPECT_LE(seen.locks, blocks)
        << "JUCE's clients take the processor's own lock, which nobody else here takes";
    EXPECT_EQ(seen.files, 0);
    EXPECT_EQ(seen.sleeps, 0);
    EXPECT_FALSE(rig->sent().empty());
}

} // namespace valveladder::host
