#pragma once

#include "Listening/Envelope.h"
#include "Listening/Glide.h"
#include "Listening/PitchPath.h"

#include <span>
#include <vector>

namespace valveladder {

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
    /// Where a stop on a third pitch is sought; places and lengths in samples.
    struct HalfDoneSearch {
        double midFrequency;
        double first, last; ///< both steps lie within
        double begin, end;  ///< compared stretch of the sound
        double step;        ///< between places tried first
    };
    [[nodiscard]] HalfDoneGlide judged(HalfDoneGlide trial, const HalfDoneSearch& search, int points) const;
    [[nodiscard]] HalfDoneGlide roughHalfDone(const HalfDoneSearch& search) const;
    bool improve(HalfDoneGlide& best, const HalfDoneSearch& search, double move) const;
    void tellEdges(HalfDoneGlide& glide, double midFrequency) const;
    [[nodiscard]] double mismatch(const PitchPath& path, double first, double last, int points) const;
    [[nodiscard]] PitchPath pathOf(const HalfDoneGlide& glide, double midFrequency) const;
    [[nodiscard]] double judge(const Glide& glide) const;
    [[nodiscard]] float soundAt(double place) const;

    std::span<const float> x;
    std::vector<float> smoothed; ///< without the highest harmonics, which interpolation would falsify
    Envelope envelope;
    double f1;
    double f2;
    double window;     ///< of the pitch track, samples
    double from = 0.0; ///< compared stretch of the sound
    double to = 0.0;
};

} // namespace valveladder
