#pragma once

#include "Listening/Envelope.h"
#include "Listening/PitchTrack.h"

#include <span>
#include <vector>

namespace valveladder {

/// A change of pitch without a break, as it fits the sound best. Places and lengths in samples.
struct Glide {
    double centre = 0.0; ///< middle of the glide
    double length = 0.0; ///< from leaving the first pitch to reaching the second
    double unrest = 0.0; ///< cents: how far the pitch strays from the ramp, root mean square
    double residual =
        1.0; ///< 0 = the sound repeats from cycle to cycle as well within as outside, 1 = not at all
};

/// Fits a glide between two settled pitches: a ramp (straight in cents) of unknown middle and length.
/// First to the pitch track, as the track's own windows would show the ramp, so that they bias nothing; then
/// to the sound itself: time is warped by the phase of the trial glide and every sample compared with the one
/// a cycle earlier. The right glide makes the cycles alike, and the harmonics tell glides shorter than one
/// period.
class GlideFitter {
public:
    /// `sound` holds the transition and at least two periods on either side; frequencies in cycles a sample.
    GlideFitter(std::span<const float> sound, double fromFrequency, double toFrequency);

    /// Search about `guess` (samples into the sound), `slack` samples either way, lengths up to maxLength.
    [[nodiscard]] Glide fit(double guess, double slack, double maxLength) const;

private:
    /// Mean squared difference from cycle to cycle in [first, last), relative to the sound's own power.
    [[nodiscard]] double mismatch(const Glide& glide, double first, double last) const;
    [[nodiscard]] double judge(const Glide& glide) const;
    [[nodiscard]] float soundAt(double place) const;
    [[nodiscard]] Glide fitTrack(const std::vector<TrackPoint>& track, double guess, double slack,
                                 double maxLength) const;

    std::span<const float> x;
    std::vector<float> mellow; ///< without the highest harmonics, which interpolation would falsify
    Envelope envelope;
    double f1;
    double f2;
    double window;     ///< of the pitch track, samples
    double from = 0.0; ///< compared stretch of the sound
    double to = 0.0;
};

/// A unit ramp from `centre - length/2` to `centre + length/2`, seen through two windows of `window`, at t.
[[nodiscard]] double smearedRamp(double t, double centre, double length, double window);

} // namespace valveladder
