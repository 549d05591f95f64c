#pragma once

#include "Support/BrassSynth.h"
#include "Support/SoundPlan.h"
#include "Valves/Instrument.h"

#include <cstdint>

namespace valveladder::testing {

/// A made-up player whose fingers come apart: of the changes that move two fingers or more, six in ten stop
/// on the combination between, which sounds 15 to 60 ms on the partial nearest to where the lips are, in
/// steps of 6 to 16 ms (keys move in 10 to 16 ms, Almeida, Chow, Smith and Wolfe, arXiv:0903.4012); other
/// changes take 15 to 80 ms. Every change bends in a way of its own. `score` of this instrument.
[[nodiscard]] SoundPlan planFingersApart(const Score& score, const Instrument& instrument, double bpm,
                                         std::uint32_t seed);

/// The same, but where fingers of `slow` and others move, those of `slow` come last.
[[nodiscard]] SoundPlan planSlowFingers(const Score& score, const Instrument& instrument, double bpm,
                                        std::uint32_t seed, Combination slow);

/// The made-up voice nearest to the instrument's height.
[[nodiscard]] BrassVoice voiceFor(const Instrument& instrument);

} // namespace valveladder::testing
