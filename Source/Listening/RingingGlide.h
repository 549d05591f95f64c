#pragma once

#include "Listening/GlideFit.h"

#include <Eigen/Core>

#include <span>

namespace valveladder {

/// Fits a glide where the first note rings on under the second, as in a room: there the sound does not repeat
/// from cycle to cycle even along the right glide.
///
/// The sound is taken for the harmonics of one tone that glides, its loudness changing with it, and for some
/// echoes of that tone, each harmonic with a strength and a phase of its own. For a trial glide these follow
/// by regularised linear least squares; the glide that leaves the least unexplained is the right one. Only
/// the lowest harmonics are looked at. Constants: RingingConstants.h.
class RingingGlideFitter {
public:
    /// `sound` at `sampleRate` Hz holds the transition and some periods on either side; frequencies in cycles
    /// a sample.
    RingingGlideFitter(std::span<const float> sound, double fromFrequency, double toFrequency,
                       double sampleRate);

    /// Search from `start` (places in samples of the sound), lengths up to maxLength. The residual is the
    /// share of the power that is left unexplained, what the strengths cost included.
    [[nodiscard]] Glide fit(Glide start, double maxLength) const;

private:
    /// A glide between pitches a little off those that were given, in thinned samples.
    struct Trial {
        Glide glide;
        double firstOff = 0.0; ///< share of the frequency
        double secondOff = 0.0;
    };
    [[nodiscard]] double unexplained(const Trial& trial) const;

    int thinning = 1;     ///< samples of the sound for one that is looked at
    Eigen::VectorXf thin; ///< without what lies above the harmonics looked at
    double f1;            ///< cycles a thinned sample
    double f2;
    double rate; ///< Hz, of the thinned sound
    int harmonics;
};

} // namespace valveladder
