#include "Session/RoundTrip.h"

#include <gtest/gtest.h>

#include <cmath>
#include <functional>
#include <numbers>
#include <random>

namespace valveladder {
namespace {

constexpr std::int64_t seriesSample = 1000;

/// What a microphone or cable brings back of the series: `path` says the input at a sample from its begin.
Result<double> measured(double rate, const std::function<double(std::int64_t)>& path, int block = 256) {
    RoundTripFinder finder(rate, seriesSample);
    std::int64_t at = seriesSample - 300;
    std::vector<float> sound(static_cast<std::size_t>(block));
    while (!finder.done(at)) {
        for (std::size_t i = 0; i < sound.size(); ++i)
            sound[i] = static_cast<float>(path(at + static_cast<std::int64_t>(i) - seriesSample));
        finder.push(at, sound);
        at += block;
    }
    return finder.result();
}

double click(std::int64_t sample, double rate) {
    return static_cast<double>(RoundTripClicks::at(sample, rate));
}

TEST(RoundTrip, IsFoundThroughACableToTheSampleAtEveryRate) {
    for (const double rate : {44100.0, 48000.0, 96000.0, 192000.0})
        for (const double ms : {0.5, 7.3, 42.0, 480.0, 900.0}) {
            const auto delay = std::llround(ms * rate / 1000.0);
            const auto found = measured(rate, [&](std::int64_t s) { return click(s - delay, rate); });
            ASSERT_TRUE(found.ok()) << rate << " Hz, " << ms << " ms: " << found.problem().text();
            EXPECT_NEAR(found.value(), 1000.0 * static_cast<double>(delay) / rate, 0.05) << rate;
        }
}

TEST(RoundTrip, IsFoundInNoiseRoomAndUpsideDown) {
    const double rate = 48000.0;
    const std::int64_t delay = 1234;
    std::mt19937 random(5);
    // The click's peak is 0.25; -20 dB of it comes back, in noise of -46 dBFS, with echoes, inverted.
    std::normal_distribution<double> noise(0.0, 0.005);
    const auto found = measured(rate, [&](std::int64_t s) {
        double sum = -0.1 * click(s - delay, rate);
        for (int echo = 1; echo <= 8; ++echo)
            sum += 0.06 * std::pow(0.8, echo) * click(s - delay - 300 * echo - 17 * echo * echo, rate);
        return sum + noise(random);
    });
    ASSERT_TRUE(found.ok()) << found.problem().text();
    EXPECT_NEAR(found.value(), 1000.0 * 1234 / rate, 0.2);
}

TEST(RoundTrip, TheDirectSoundCountsAndNotALouderEcho) {
    const double rate = 48000.0;
    const auto found = measured(
        rate, [&](std::int64_t s) { return 0.3 * click(s - 600, rate) + 0.4 * click(s - 2500, rate); });
    ASSERT_TRUE(found.ok()) << found.problem().text();
    EXPECT_NEAR(found.value(), 12.5, 0.05);
}

TEST(RoundTrip, SilenceIsRefusedWithAReason) {
    const auto found = measured(48000.0, [](std::int64_t) { return 0.0; });
    ASSERT_FALSE(found.ok());
    EXPECT_NE(found.problem().text().find("nothing at all came in"), std::string::npos);
}

TEST(RoundTrip, NoiseAToneAndAMetronomeAreNoClicks) {
    const double rate = 48000.0;
    std::mt19937 random(6);
    std::normal_distribution<double> noise(0.0, 0.1);
    std::vector<std::function<double(std::int64_t)>> others{
        [&](std::int64_t) { return noise(random); },
        [&](std::int64_t s) {
            return 0.3 * std::sin(2.0 * std::numbers::pi * 440.0 * static_cast<double>(s) / rate);
        },
        // Our own click, but from a machine that beats 60 a minute.
        [&](std::int64_t s) { return click((s + 480000) % 48000 + RoundTripClicks::begin(0, rate), rate); }};
    for (std::size_t i = 0; i < others.size(); ++i) {
        const auto found = measured(rate, others[i]);
        ASSERT_FALSE(found.ok()) << i << ": " << found.value();
        EXPECT_FALSE(found.problem().remedy.empty());
    }
}

TEST(RoundTrip, ADelayThatWandersIsRefused) {
    const double rate = 48000.0;
    const auto found = measured(rate, [&](std::int64_t s) {
        double sum = 0.0;
        for (std::size_t c = 0; c < RoundTripClicks::seconds.size(); ++c) {
            // Each click is late by 10 ms more than the one before.
            const std::int64_t into = s - RoundTripClicks::begin(c, rate) - 480 * (1 + static_cast<int>(c));
            if (into >= 0 && into < 960)
                sum += click(RoundTripClicks::begin(c, rate) + into, rate);
        }
        return sum;
    });
    ASSERT_FALSE(found.ok()) << found.value();
    EXPECT_NE(found.problem().text().find("different times"), std::string::npos);
}

TEST(RoundTrip, OneClickThatIsDisturbedDoesNoHarm) {
    const double rate = 48000.0;
    const auto lateOne = RoundTripClicks::begin(2, rate);
    const auto found = measured(rate, [&](std::int64_t s) {
        const bool second = s >= lateOne && s < lateOne + 48000;
        return click(s - (second ? 9000 : 960), rate);
    });
    ASSERT_TRUE(found.ok()) << found.problem().text();
    EXPECT_NEAR(found.value(), 20.0, 0.05);
}

TEST(RoundTrip, ValuesThatAreNoNumbersDoNoHarm) {
    const double rate = 48000.0;
    const auto found =
        measured(rate, [&](std::int64_t s) { return s % 5000 == 0 ? std::nan("") : click(s - 960, rate); });
    ASSERT_TRUE(found.ok()) << found.problem().text();
    EXPECT_NEAR(found.value(), 20.0, 0.05);
}

} // namespace
} // namespace valveladder
