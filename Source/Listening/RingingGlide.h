#pragma once

#include "Listening/Glide.h"

#include <Eigen/Core>

#include <span>
#include <vector>

namespace valveladder {

/// Fits a glide where the first note rings on under the second, as in a room: there the sound does not repeat
/// from cycle to cycle even along the right glide.
///
/// The sound is taken for the harmonics of one tone that glides, its loudness changing with it, and for some
/// echoes of that tone, each harmonic with a strength and a phase of its own. For a trial glide these follow
/// by regularised linear least squares, harmonic by harmonic, as a few cycles suffice to part one from the
/// next; the glide that leaves the least unexplained is the right one. Only the lowest harmonics are looked
/// at. Constants: RingingConstants.h.
class RingingGlideFitter {
public:
    /// `sound` at `sampleRate` Hz holds the transition and some periods on either side; frequencies in cycles
    /// a sample.
    RingingGlideFitter(std::span<const float> sound, double fromFrequency, double toFrequency,
                       double sampleRate);

    /// Search from `start` (places in samples of the sound), lengths up to maxLength. The residual is the
    /// share of the power that is left unexplained, what the strengths cost included; of low tones, whose
    /// harmonics are not quite parted, it may come out a little below 0.
    [[nodiscard]] Glide fit(Glide start, double maxLength) const;

    /// Share of the power that echoes explain beside a glide (places in samples of the sound): near 0 in a
    /// dry sound.
    [[nodiscard]] double echoShare(Glide glide) const;

private:
    /// A glide between pitches a little off those that were given, in thinned samples.
    struct Trial {
        Glide glide;
        double firstOff = 0.0; ///< share of the frequency
        double secondOff = 0.0;
    };
    /// Shares of the power.
    struct Unexplained {
        double byTone = 1.0;     ///< alone
        double withEchoes = 1.0; ///< of it
    };
    /// By the lowest `count` harmonics.
    [[nodiscard]] Unexplained unexplained(const Trial& trial, int count) const;
    [[nodiscard]] Trial moved(Trial trial, int which, double way, double maxLength) const;
    /// From `step` down to `finest`, shares of the first steps.
    [[nodiscard]] Trial search(Trial best, double maxLength, double step, double finest, int count) const;

    int thinning = 1;       ///< samples of the sound for one that is looked at
    Eigen::VectorXcf thin;  ///< real, without what lies above the harmonics looked at, faded at its ends
    float power = 0.0F;     ///< of it, never 0
    Eigen::VectorXf window; ///< by which it was faded at its ends
    std::vector<Eigen::Index> delays; ///< of the echoes, thinned samples, rising
    float dearerEchoes = 1.0F;        ///< than RingingConstants.h says
    double f1;                        ///< cycles a thinned sample
    double f2;
    double rate; ///< Hz, of the thinned sound
    int harmonics;
};

} // namespace valveladder
