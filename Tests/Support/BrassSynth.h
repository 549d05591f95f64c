#pragma once

#include "Support/SoundTake.h"

namespace valveladder::testing {

/// A made-up brass instrument: a lip-driven tone as a sum of harmonics whose slope follows the loudness
/// (louder = brighter), a fixed resonance, breath noise, slow wander of pitch; a slur bends the tone from one
/// pitch to the next while the valve travels, with a dip of level. For tests only: it gives changeovers of
/// known length, which sampled notes have not. It is not a model of any instrument's bore.
struct BrassVoice {
    const char* name = "trumpet";
    double slopeDb = -5.0;      ///< a octave, at full level
    double softSlopeDb = -14.0; ///< a octave, at a tenth of it
    double formantHz = 1200.0;
    double formantDb = 6.0;
    double attackMs = 22.0; ///< 0 to full
    double releaseMs = 35.0;
    double breathDb = -48.0; ///< noise under the tone
    double wanderCents = 3.0;
    double vibratoCents = 0.0;
    double dipDb = 3.0; ///< in the middle of a changeover
};

[[nodiscard]] BrassVoice trumpetVoice();
[[nodiscard]] BrassVoice hornVoice();
[[nodiscard]] BrassVoice euphoniumVoice();
[[nodiscard]] BrassVoice tubaVoice();

[[nodiscard]] SoundTake renderBrass(const SoundPlan& plan, const BrassVoice& voice, std::uint32_t seed,
                                    double rate = 44100.0, double tuningCents = 0.0, double driftCents = 0.0);

} // namespace valveladder::testing
