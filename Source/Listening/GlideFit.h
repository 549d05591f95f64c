#pragma once

#include "Listening/BendShape.h"
#include "Listening/Envelope.h"
#include "Listening/PitchPath.h"
#include "Listening/PitchTrack.h"

#include <span>
#include <vector>

namespace valveladder {

/// A change of pitch without a break, as it fits the sound best. Places and lengths in samples.
struct Glide {
    double centre = 0.0; ///< half-way between leaving the first pitch and reaching the second
    double length = 0.0; ///< from leaving the first pitch to reaching the second, as BendShape.h defines it
    BendShape shape = BendShape::straight;
    double unrest = 0.0; ///< cents: how far the pitch strays from the shape, root mean square
    double residual =
        1.0; ///< 0 = the sound repeats from cycle to cycle as well within as outside, 1 = not at all
};

/// The pitch of a glide over time, from frequency f1 to f2 (cycles a sample).
[[nodiscard]] PitchPath glidePath(const Glide& glide, double f1, double f2);

/// A change that stops half-way on a third pitch, as it fits the sound best. Places and lengths in samples.
struct HalfDoneGlide {
    double first = 0.0;    ///< middle of the step from the first pitch
    double second = 0.0;   ///< middle of the step to the second
    double travel = 0.0;   ///< of either step
    double left = 0.0;     ///< when the first pitch is left, as BendShape.h defines it
    double reached = 0.0;  ///< and the second reached
    double mismatch = 1.0; ///< from cycle to cycle, as GlideFitter::mismatchOf gives it for a glide
};

/// Fits a glide between two settled pitches, of unknown shape, middle and length.
/// First to the pitch track, as the track's own windows would show the shape, so that they bias nothing; then
/// to the sound itself: time is warped by the phase of the trial glide and every sample compared with the one
/// a cycle earlier. The right glide makes the cycles alike, and the harmonics tell glides shorter than one
/// period.
class GlideFitter {
public:
    /// `sound` holds the transition and at least two periods on either side; frequencies in cycles a sample.
    GlideFitter(std::span<const float> sound, double fromFrequency, double toFrequency);

    /// Search about `guess` (samples into the sound), `slack` samples either way, lengths up to maxLength.
    [[nodiscard]] Glide fit(double guess, double slack, double maxLength) const;

    /// Search for a stop on `midFrequency`: both steps within [first, last).
    [[nodiscard]] HalfDoneGlide fitHalfDone(double midFrequency, double first, double last) const;
    /// Mean squared difference from cycle to cycle in [first, last), relative to the sound's own power.
    [[nodiscard]] double mismatchOf(const Glide& glide, double first, double last) const;

private:
    [[nodiscard]] double mismatch(const PitchPath& path, double first, double last, int points) const;
    [[nodiscard]] PitchPath pathOf(const HalfDoneGlide& glide, double midFrequency) const;
    [[nodiscard]] double judge(const Glide& glide) const;
    [[nodiscard]] float soundAt(double place) const;
    [[nodiscard]] Glide roughFit(const std::vector<TrackPoint>& track, double guess, double slack,
                                 double centreStep, double maxLength) const;
    [[nodiscard]] Glide fitTrack(const std::vector<TrackPoint>& track, Glide best, double centreStep,
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

/// How far a glide has gone (0..1) at t, seen through two windows of `window`.
[[nodiscard]] double smearedShare(double t, const Glide& glide, double window);

} // namespace valveladder
