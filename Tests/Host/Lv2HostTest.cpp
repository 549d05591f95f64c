// What hosts do to an LV2 that no hosting library does: no room for events, ports without a place, more
// events than fit, state before activation, many instances made and gone.

#include "Host/DefaultScore.h"
#include "Host/ExpectedGuide.h"
#include "Host/Lv2Rig.h"
#include "Host/TempLog.h"

#include <lv2/state/state.h>

#include <dlfcn.h>
#include <gtest/gtest.h>
#include <link.h>

#include <atomic>
#include <cmath>
#include <thread>

namespace valveladder::host {

namespace {

constexpr double rate = 44100.0;

TimeReport rolling(std::int64_t frame, double bpm) {
    const double beats = static_cast<double>(frame) / rate * bpm / 60.0;
    TimeReport report;
    report.frame = frame;
    report.bar = static_cast<std::int64_t>(std::floor(beats / 4.0));
    report.barBeat = beats - 4.0 * std::floor(beats / 4.0);
    report.beatsPerBar = 4.0;
    report.beatUnit = 4;
    report.beatsPerMinute = bpm;
    report.speed = 1.0;
    return report;
}

class Lv2Host : public testing::Test {
protected:
    void SetUp() override {
        if (!std::filesystem::exists(builtPlugin(Format::lv2)))
            GTEST_SKIP() << "this build has no LV2";
    }
    static std::unique_ptr<Lv2Rig> load(int maxSamples) {
        std::string error;
        auto rig = Lv2Rig::load(rate, maxSamples, error);
        EXPECT_NE(rig, nullptr) << error;
        return rig;
    }
    TempLog log;
};

} // namespace

TEST_F(Lv2Host, RunForLatencyWithRoomForNoEventIsSurvivedWithEventsWaiting) {
    // Ardour 7.3 runs a plugin once before it is used, with eight bytes for its events: seen with 16 samples.
    const auto rig = load(16);
    rig->outRoom = 8;
    for (int i = 0; i < 200; ++i)
        rig->run(16, {rolling(i * 16, 240.0)});
    EXPECT_TRUE(rig->sent().empty());
    rig->outRoom = 8192;
    rig->run(16, {rolling(200 * 16, 240.0)});
    EXPECT_FALSE(sentNotes(rig->sent(), 10).empty()) << "what did not fit comes as soon as there is room";
}

TEST_F(Lv2Host, PortsWithoutAPlaceAreLeftAlone) {
    const auto rig = load(64);
    rig->portsGiven = false;
    rig->run(64, {});
    rig->portsGiven = true;
    rig->run(64, {rolling(0, 120.0)});
    EXPECT_FALSE(rig->sent().empty()) << "the click of the first beat, or the valves";
}

TEST_F(Lv2Host, NoEventIsLostOrCutWhereTheHostsRoomIsSmall) {
    const auto all = load(64);
    const auto few = load(64);
    few->outRoom = 8 + 24; // one message a block
    for (int i = 0; i * 64 < 30 * 11025; ++i) {
        all->run(64, {rolling(i * 64, 240.0)});
        few->run(64, {rolling(i * 64, 240.0)});
    }
    for (int i = 0; i < 20; ++i)
        few->run(64, {});
    const auto expected = sentNotes(all->sent(), 1);
    const auto notes = sentNotes(few->sent(), 1);
    ASSERT_GT(expected.size(), 5U);
    ASSERT_GE(notes.size(), expected.size());
    for (std::size_t i = 0; i + 1 < expected.size(); ++i) {
        EXPECT_EQ(notes[i].pitch, expected[i].pitch);
        EXPECT_LE(notes[i].on - expected[i].on, 64 * 8);
        EXPECT_GE(notes[i].off, 0);
    }
}

TEST_F(Lv2Host, StateIsRestoredBeforeActivationAndWhileAnotherRuns) {
    const auto rig = load(16);
    const auto* state =
        static_cast<const LV2_State_Interface*>(rig->plugin().extension_data(LV2_STATE__interface));
    ASSERT_NE(state, nullptr);
    struct Kept {
        std::map<LV2_URID, std::pair<LV2_URID, std::string>> values;
    } kept;
    const auto store = [](LV2_State_Handle to, std::uint32_t key, const void* value, std::size_t size,
                          std::uint32_t type, std::uint32_t) {
        static_cast<Kept*>(to)->values[key] = {type, std::string(static_cast<const char*>(value), size)};
        return LV2_STATE_SUCCESS;
    };
    const auto retrieve = [](LV2_State_Handle from, std::uint32_t key, std::size_t* size, std::uint32_t* type,
                             std::uint32_t* flags) -> const void* {
        auto& values = static_cast<Kept*>(from)->values;
        const auto found = values.find(key);
        if (found == values.end())
            return nullptr;
        *size = found->second.second.size();
        *type = found->second.first;
        *flags = LV2_STATE_IS_POD | LV2_STATE_IS_PORTABLE;
        return found->second.second.data();
    };
    ASSERT_EQ(state->save(rig->handle(), store, &kept, 0, nullptr), LV2_STATE_SUCCESS);
    std::atomic<bool> stop{false};
    std::thread audio([&] {
        for (int i = 0; !stop; ++i)
            rig->run(16, {rolling(std::int64_t{i} * 16, 120.0)});
    });
    for (int i = 0; i < 20; ++i) {
        const auto other = load(16);
        EXPECT_EQ(state->restore(other->handle(), retrieve, &kept, 0, nullptr), LV2_STATE_SUCCESS);
        other->run(16, {rolling(0, 120.0)});
    }
    stop = true;
    audio.join();
}

TEST_F(Lv2Host, InsertionsWithSmallBuffersWhileOthersPlay) {
    // As when a plugin is added to a session that rolls: made on one thread, run at once on another.
    const auto other = load(16);
    std::atomic<bool> stop{false};
    std::thread playing([&] {
        for (int i = 0; !stop; ++i)
            other->run(16, {rolling(std::int64_t{i} * 16, 200.0)});
    });
    for (int round = 0; round < 30; ++round) {
        auto rig = load(16);
        rig->outRoom = 8;
        rig->run(16, {});
        rig->outRoom = 8192;
        std::thread audio([&rig] {
            for (int i = 0; i < 300; ++i)
                rig->run(16, {rolling(std::int64_t{i} * 16, 200.0)});
        });
        audio.join();
        EXPECT_FALSE(rig->sent().empty());
    }
    stop = true;
    playing.join();
    EXPECT_FALSE(other->sent().empty());
}

TEST_F(Lv2Host, InstancesComeAndGoOnTwoThreadsAtOnce) {
    // Whenever both have none, the one's first meets the other's last: JUCE's own threads begin and end with
    // them.
    const auto comeAndGo = [] {
        for (int i = 0; i < 100; ++i)
            load(64)->run(64, {rolling(0, 120.0)});
    };
    std::thread one(comeAndGo), other(comeAndGo);
    one.join();
    other.join();
    const auto rig = load(64);
    rig->run(64, {rolling(0, 120.0)});
    EXPECT_FALSE(rig->sent().empty());
}

TEST_F(Lv2Host, TakenAwayWhileItsOwnClockIsStartedAndStopped) {
    for (int i = 0; i < 60; ++i) {
        const auto rig = load(512);
        for (int block = 0; block < 20 + i; ++block) {
            rig->set("run-own-clock", block % 2 == 0 ? 1.0F : 0.0F);
            rig->run(512, {});
        }
    }
}

TEST(PluginBinary, StaysInMemoryWhenItsHostLetsItGo) {
    // JUCE's threads are seen to end before they have left their code.
    for (const Format format : {Format::lv2, Format::vst3}) {
        if (!std::filesystem::exists(builtPlugin(format)))
            continue;
        for (const auto& entry : std::filesystem::recursive_directory_iterator(builtPlugin(format))) {
            if (entry.path().extension() != ".so")
                continue;
            void* library = dlopen(entry.path().c_str(), RTLD_LAZY | RTLD_LOCAL);
            ASSERT_NE(library, nullptr) << dlerror();
            const link_map* map = nullptr;
            ASSERT_EQ(dlinfo(library, RTLD_DI_LINKMAP, &map), 0);
            ElfW(Xword) flags = 0;
            for (const ElfW(Dyn)* each = map->l_ld; each->d_tag != DT_NULL; ++each)
                if (each->d_tag == DT_FLAGS_1)
                    flags = each->d_un.d_val;
            EXPECT_TRUE((flags & DF_1_NODELETE) != 0) << entry.path();
        }
    }
}

} // namespace valveladder::host
