#pragma once

#include "Listening/Envelope.h"

#include <span>

namespace valveladder {

/// A change of pitch without a break, as it fits the sound best. Places and lengths in samples.
struct Glide {
    double centre = 0.0;   ///< middle of the glide
    double length = 0.0;   ///< from leaving the first pitch to reaching the second
    double residual = 1.0; ///< 0 = the sound repeats from cycle to cycle all the way, 1 = not at all
};

/// Fits a glide between two settled pitches to the sound itself: time is warped by the phase of a trial
/// glide, and every sample compared with the one a cycle earlier. The right glide makes the cycles alike.
/// No analysis window enters, so that glides shorter than a period can be told, from the harmonics.
class GlideFitter {
public:
    /// `sound` holds the transition and at least two periods on either side; frequencies in cycles a sample.
    GlideFitter(std::span<const float> sound, double fromFrequency, double toFrequency);

    /// Search about `guess` (samples into the sound), `slack` samples either way, lengths up to maxLength.
    [[nodiscard]] Glide fit(double guess, double slack, double maxLength) const;
    /// Mean squared difference from cycle to cycle, relative to the sound's own power.
    [[nodiscard]] double mismatch(double centre, double length, int points) const;

private:
    [[nodiscard]] float soundAt(double place) const;
    void refine(Glide& best, double centreStep, double lengthStep, double maxLength) const;

    std::span<const float> x;
    Envelope envelope;
    double f1;
    double f2;
    double from = 0.0; ///< compared stretch of the sound
    double to = 0.0;
};

} // namespace valveladder
