// How one tone of a phrase leads to the next, from sound made for it.
#include "Listening/Transition.h"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>
#include <vector>

namespace valveladder {
namespace {

constexpr double rate = 6000.0;
constexpr double period = 30.0; // samples: 200 Hz
constexpr double border = 3000.0;

/// One second of three partials that fall to `share` for 40 ms in its middle.
std::vector<float> dipping(double share) {
    std::vector<float> samples;
    for (double t = 0.0; t < 2.0 * border; t += 1.0) {
        const double level = std::abs(t - border) < 0.02 * rate ? share : 1.0;
        double sample = 0.0;
        for (const double partial : {1.0, 2.0, 3.0})
            sample += std::sin(2.0 * std::numbers::pi * partial * t / period) / partial;
        samples.push_back(static_cast<float>(0.1 * level * sample));
    }
    return samples;
}

Tone toneWithin(double from, double to) {
    Tone tone;
    tone.from = tone.onset = from;
    tone.to = tone.offset = to;
    tone.period = period;
    tone.level = 0.08;
    return tone;
}

} // namespace

TEST(Transition, OfAToneStruckAgainOnItsPitchIsNoBendAndNoOtherPitchTakesOver) {
    const std::vector<float> samples = dipping(0.6);
    const PhraseSound sound{samples, Envelope(samples), 0, 0.0, rate};
    const std::vector<Tone> tones{toneWithin(100.0, border - 60.0), toneWithin(border + 60.0, 5900.0)};
    const auto transitions = transitionsOf(sound, tones);
    ASSERT_EQ(transitions.size(), 1u);
    EXPECT_TRUE(transitions[0].touches);
    EXPECT_FALSE(transitions[0].glide);
    EXPECT_EQ(kindOf(transitions[0], false), TransitionKind::articulated);
    EXPECT_EQ(kindOf(transitions[0], true), TransitionKind::articulated);
}

} // namespace valveladder
