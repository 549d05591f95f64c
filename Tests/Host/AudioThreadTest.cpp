#include "Host/AudioThreadWatch.h"
#include "Host/HostRig.h"
#include "Host/TempLog.h"
#include "Plugin/Processor.h"

#include <gtest/gtest.h>

#include <cmath>
#include <cstdio>
#include <fcntl.h>
#include <mutex>
#include <unistd.h>

namespace valveladder::host {

namespace {

constexpr int blockSamples = 256;

/// The processor itself in a host of ours, watched during every processBlock.
class AudioThread : public testing::Test {
protected:
    void SetUp() override {
        if (!canWatch())
            GTEST_SKIP() << "allocations and locks cannot be intercepted on this system or under a sanitizer";
        auto made = std::make_unique<Processor>();
        processor = made.get();
        processor->setRateAndBufferSizeDetails(48000.0, blockSamples);
        rig = std::make_unique<HostRig>(std::move(made), 48000.0, blockSamples);
        rig->aroundBlock = [this](const std::function<void()>& process) {
            const AudioThreadWatch watch;
            process();
            seen += AudioThreadWatch::offences();
        };
    }

    void expectClean() const {
        EXPECT_EQ(seen.allocations, 0);
        EXPECT_EQ(seen.frees, 0);
        EXPECT_EQ(seen.locks, 0);
        EXPECT_EQ(seen.files, 0);
        EXPECT_EQ(seen.sleeps, 0);
    }

    TempLog log;
    Processor* processor = nullptr;
    std::unique_ptr<HostRig> rig;
    Offences seen;
};

juce::MidiBuffer aNote(int note) {
    juce::MidiBuffer midi;
    midi.addEvent(juce::MidiMessage::noteOn(1, note, 0.8F), 3);
    midi.addEvent(juce::MidiMessage::noteOff(1, note), 200);
    return midi;
}

} // namespace

TEST_F(AudioThread, RollingWithSoundAndNotesIsClean) {
    std::vector<float> sound(blockSamples);
    for (std::size_t i = 0; i < sound.size(); ++i)
        sound[i] = 0.3F * std::sin(static_cast<float>(i) * 0.1F);
    rig->playing = true;
    rig->recording = true;
    for (int i = 0; i < 4000; ++i)
        rig->run(blockSamples, aNote(52 + i % 12), &sound);
    EXPECT_FALSE(rig->sent().empty());
    expectClean();
}

TEST_F(AudioThread, LoopsJumpsAndStopsAreClean) {
    rig->loop(3.9, 9.1, 8, blockSamples);
    for (const double target : {20.0, 5.3, 70.2}) {
        rig->ppq = target;
        rig->rollTo(target + 2.2, blockSamples);
        rig->playing = false;
        rig->run(blockSamples);
    }
    EXPECT_FALSE(rig->sent().empty());
    expectClean();
}

TEST_F(AudioThread, BackingThroughLoopsJumpsAndSwitchesIsClean) {
    for (std::size_t part = 0; part < backingPartCount; ++part)
        processor->parameterSet().backing[part]->setValueNotifyingHost(1.0F);
    rig->loop(3.9, 9.1, 8, blockSamples);
    const auto heardOn = [this](int channel) {
        return std::any_of(rig->sent().begin(), rig->sent().end(),
                           [channel](const auto& sent) { return sent.event.channel() == channel; });
    };
    for (const int channel : {2, 3, 4, 10})
        EXPECT_TRUE(heardOn(channel)) << channel;
    for (const double target : {20.0, 5.3, 70.2}) {
        processor->parameterSet().backing[0]->setValueNotifyingHost(target > 10.0 ? 0.0F : 1.0F);
        rig->ppq = target;
        rig->rollTo(target + 2.2, blockSamples);
        rig->playing = false;
        rig->run(blockSamples);
    }
    expectClean();
}

TEST_F(AudioThread, OwnSoundThroughLoopsJumpsAndSwitchesIsClean) {
    Parameters& parameters = processor->parameterSet();
    *parameters.ownSound = true;
    *parameters.tone = 2;
    for (auto* part : parameters.backing)
        *part = true;
    rig->loop(3.9, 9.1, 8, blockSamples);
    float loudest = 0.0F;
    rig->playing = true;
    for (int i = 0; i < 500; ++i) {
        *parameters.ownSound = i % 100 < 90;
        *parameters.clickLevel = static_cast<float>(-(i % 60));
        rig->run(blockSamples);
        loudest = std::max(loudest, std::abs(rig->output(0, blockSamples / 2)));
    }
    EXPECT_GT(loudest, 0.0F);
    expectClean();
}

TEST_F(AudioThread, AnotherDrillDuringPlaybackIsClean) {
    rig->playing = true;
    for (int round = 0; round < 12; ++round) {
        SessionConfig config = processor->config();
        config.drill.countInBars = 1 + round % 3;
        ASSERT_TRUE(processor->setConfig(config).ok());
        for (int i = 0; i < 100; ++i)
            rig->run(blockSamples);
    }
    expectClean();
}

TEST_F(AudioThread, ParametersMovedDuringPlaybackAreClean) {
    rig->playing = true;
    juce::Random random(7);
    for (int i = 0; i < 2000; ++i) {
        auto* parameter = processor->getParameters()[random.nextInt(processor->getParameters().size())];
        if (parameter != processor->parameterSet().link) // would join whoever is on the network
            parameter->setValueNotifyingHost(random.nextFloat());
        rig->run(blockSamples, aNote(60));
    }
    expectClean();
}

TEST_F(AudioThread, OwnClockIsClean) {
    rig->positionTold = false;
    processor->parameterSet().runOwnClock->setValueNotifyingHost(1.0F);
    for (int i = 0; i < 2000; ++i)
        rig->run(blockSamples);
    EXPECT_FALSE(rig->sent().empty());
    expectClean();
}

TEST_F(AudioThread, MeasuringTheRoundTripIsClean) {
    std::vector<float> sound(blockSamples, 0.1F);
    ASSERT_TRUE(processor->measureRoundTrip().ok());
    for (int i = 0; i < 48000 * 8 / blockSamples; ++i)
        rig->run(blockSamples, {}, &sound);
    expectClean();
}

TEST_F(AudioThread, BlocksFarAboveTheAnnouncedSizeAreClean) {
    std::vector<float> sound(1U << 16U, 0.1F);
    rig->playing = true;
    rig->run(1 << 16, aNote(60), &sound);
    rig->run(1 << 16, aNote(61), &sound);
    EXPECT_FALSE(rig->sent().empty());
    expectClean();
}

TEST_F(AudioThread, FullQueueToTheWorkerIsClean) {
    // A worker held up while more blocks come than the queue holds.
    std::mutex held;
    held.lock();
    std::thread other([&] {
        processor->startedWorker().runOnSession([&](Session&) { const std::lock_guard wait(held); });
    });
    rig->playing = true;
    std::vector<float> sound(blockSamples, 0.1F);
    while (!processor->losses().any())
        rig->run(blockSamples, aNote(60), &sound);
    held.unlock();
    other.join();
    expectClean();
}

TEST_F(AudioThread, PlantedAllocationIsCaught) {
    rig->inPlayHead = [] { delete new volatile int(1); };
    rig->run(blockSamples);
    EXPECT_GE(seen.allocations, 1);
    EXPECT_GE(seen.frees, 1);
}

TEST_F(AudioThread, PlantedLockIsCaught) {
    static std::mutex planted;
    rig->inPlayHead = [] { const std::lock_guard lock(planted); };
    rig->run(blockSamples);
    EXPECT_GE(seen.locks, 1);
}

TEST_F(AudioThread, PlantedFileAccessIsCaught) {
    rig->inPlayHead = [] {
        const int file = ::open("/dev/null", O_WRONLY);
        EXPECT_EQ(::write(file, "x", 1), 1);
        ::close(file);
    };
    rig->run(blockSamples);
    EXPECT_GE(seen.files, 2);
}

TEST_F(AudioThread, PlantedSleepIsCaught) {
    rig->inPlayHead = [] { std::this_thread::sleep_for(std::chrono::microseconds(1)); };
    rig->run(blockSamples);
    EXPECT_GE(seen.sleeps, 1);
}

} // namespace valveladder::host
