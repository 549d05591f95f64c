// Ableton Link after a pause, another rate, or a device that stood: time goes on at the session's tempo.

#include "Plugin/CallbackTime.h"
#include "Plugin/LinkClock.h"

#include <gtest/gtest.h>

#include <atomic>
#include <cmath>
#include <random>

namespace valveladder::host {

namespace {

std::atomic<std::int64_t> fakeMicros{0};

std::int64_t fakeNow() noexcept {
    return fakeMicros;
}

/// Link that goes by a clock of ours, and the blocks of a sound device.
class Stage {
public:
    Stage() {
        fakeMicros = LinkClock::systemMicros();
        link.enable(true);
    }
    ~Stage() { link.enable(false); }

    /// Blocks called for with a jitter of a millisecond. Fails when a step is not what the tempo makes it.
    void roll(double rate, int samples, int blocks) {
        HostBlock block;
        block.sampleRate = rate;
        block.samples = samples;
        const double due = samples / rate * 1.0e6;
        double worst = 0.0, from = 0.0, last = 0.0;
        for (int i = 0; i < blocks; ++i) {
            const auto jitter = static_cast<std::int64_t>(noise(random));
            fakeMicros += jitter;
            const HostBlock led = link.lead(block, 0.0, 4.0);
            fakeMicros += std::llround(due) - jitter;
            ASSERT_TRUE(led.playing);
            ASSERT_TRUE(led.ppq && led.bpm);
            const double step = samples / rate * *led.bpm / 60.0;
            if (i > 0)
                worst = std::max(worst, std::abs(*led.ppq - last - step));
            else
                from = *led.ppq;
            last = *led.ppq;
            bpm = *led.bpm;
        }
        EXPECT_LE(worst, 2.5e-3 * bpm / 60.0)
            << "no block is further from the next than the callbacks' jitter";
        EXPECT_NEAR(last - from, (blocks - 1) * samples / rate * bpm / 60.0, 2.5e-3 * bpm / 60.0);
    }

    LinkClock link{fakeNow};
    double bpm = 0.0;

private:
    std::mt19937 random{20261128};
    std::uniform_real_distribution<double> noise{0.0, 1000.0};
};

} // namespace

TEST(LinkRestart, SecondStartRunsAtTheSessionsTempo) {
    Stage stage;
    stage.roll(48000.0, 512, 700);
    stage.link.stop();
    fakeMicros += 20'000'000;
    stage.roll(48000.0, 512, 700);
}

TEST(LinkRestart, StartBeginsOnABarAheadEachTime) {
    Stage stage;
    HostBlock block;
    block.samples = 512;
    for (int start = 0; start < 5; ++start) {
        const HostBlock first = stage.link.lead(block, 8.0, 4.0);
        EXPECT_LE(*first.ppq, 8.0 + 1.0e-9);
        EXPECT_GT(*first.ppq, 4.0 - 1.0e-9);
        stage.link.stop();
        fakeMicros += 1'234'567;
    }
}

TEST(LinkRestart, ChangeOfRateRunsOn) {
    Stage stage;
    stage.roll(44100.0, 441, 700);
    stage.roll(192000.0, 64, 700);
    stage.roll(48000.0, 8192, 50);
}

TEST(LinkRestart, DeviceThatStoodDoesNotBendTime) {
    Stage stage;
    stage.roll(48000.0, 256, 700);
    fakeMicros += 7'000'000;
    stage.roll(48000.0, 256, 700);
}

TEST(LinkRestart, CallbackTimesAreSmoothed) {
    CallbackTime times;
    std::mt19937 random(7);
    std::uniform_int_distribution<std::int64_t> jitter(0, 1000);
    std::int64_t now = 123'456'789'000;
    double worst = 0.0;
    for (int i = 0; i < 2000; ++i, now += 10'000) {
        const std::int64_t time = times.block(480, 48000.0, now + jitter(random));
        if (i >= 512)
            worst = std::max(worst, std::abs(static_cast<double>(time - now) - 500.0));
    }
    EXPECT_LT(worst, 100.0) << "microseconds, of callbacks that come up to 1000 late";
}

} // namespace valveladder::host
