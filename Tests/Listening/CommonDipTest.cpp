// How far the partials of a tone are down together at one moment.
#include "Listening/CommonDip.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <vector>

namespace valveladder {
namespace {

constexpr double rate = 22050.0;
constexpr double hz = 150.0;
constexpr double period = rate / hz;
constexpr double dipAt = 0.2; // seconds
constexpr int partials = 10;

/// Down to a fifth for 16 ms about `middle`, with edges of 4 ms.
double gapAbout(double middle, double seconds) {
    const double in = std::clamp((0.012 - std::abs(seconds - middle)) / 0.004, 0.0, 1.0);
    return 1.0 - 0.8 * in;
}

/// 0.4 s of a tone of which the k-th partial, from 0, dips about dipAt + apart * k.
std::vector<float> toneDipping(double apart, float loudness = 0.1F) {
    std::vector<float> sound;
    for (int n = 0; n < static_cast<int>(0.4 * rate); ++n) {
        const double t = n / rate;
        double sum = 0.0;
        for (int k = 0; k < partials; ++k)
            sum += gapAbout(dipAt + apart * k, t) * std::sin(2.0 * std::numbers::pi * hz * (k + 1) * t + k);
        sound.push_back(loudness * static_cast<float>(sum));
    }
    return sound;
}

double commonDipIn(const std::vector<float>& sound, double seconds = dipAt) {
    return commonDipDb({sound, Envelope(sound), 0, 0.0, rate}, seconds * rate, period);
}

} // namespace

TEST(CommonDip, PartialsThatStopTogetherAreDownTogether) {
    EXPECT_GT(commonDipIn(toneDipping(0.0)), 5.0);
}

TEST(CommonDip, PartialsThatDipOneByOneAreNotDownTogether) {
    EXPECT_LT(commonDipIn(toneDipping(0.03)), 2.0);
    EXPECT_LT(commonDipIn(toneDipping(-0.03)), 2.0);
}

TEST(CommonDip, ASteadyToneIsNowhereDown) {
    EXPECT_LT(commonDipIn(toneDipping(0.0), 0.1), 0.5);
}

TEST(CommonDip, LoudnessDoesNotMatter) {
    EXPECT_NEAR(commonDipIn(toneDipping(0.0, 0.1F)), commonDipIn(toneDipping(0.0, 0.001F)), 0.1);
}

TEST(CommonDip, OfSilenceAndAtTheEdgeOfTheSoundThereIsNone) {
    EXPECT_DOUBLE_EQ(commonDipIn(std::vector<float>(8820, 0.0F)), 0.0);
    EXPECT_TRUE(std::isfinite(commonDipIn(toneDipping(0.0), 0.0)));
    EXPECT_TRUE(std::isfinite(commonDipIn(toneDipping(0.0), 0.4)));
    EXPECT_DOUBLE_EQ(commonDipIn({}), 0.0);
}

} // namespace valveladder
