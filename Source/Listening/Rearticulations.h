#pragma once

#include "Listening/Envelope.h"

#include <span>
#include <vector>

namespace valveladder {

/// A moment inside a tone of one pitch at which it seems to be struck again.
struct Rearticulation {
    double place = 0.0;  ///< samples into the sound: half of the second articulation's level reached
    double weight = 0.0; ///< evidence: 1 = as likely as not on the tuning takes
    double dipDb = 0.0;
    double correlationLost = 0.0; ///< of the cycle before and after, against the cycles about them
    double gapFrom = 0.0;         ///< where the first articulation fell to half of its level
    double dip = 0.0;             ///< where the level is least
    double swell = 1.0;           ///< greatest level after it, over the greatest before
    /// Correlation of what sounds well before and well after, whatever the lips' phase: near 1 on both sides
    /// of a second articulation on the same pitch, less where the pitch or the tone changed.
    double sameness = 0.0;
};

/// Looks for second articulations within [from, to) of `sound`, where one pitch of `period` samples sounds:
/// the level dips and rises again, and the cycles before and after do not continue each other. `least`:
/// shortest distance between articulations, samples. `swing`: share of the period by which the pitch swings
/// about it.
[[nodiscard]] std::vector<Rearticulation> findRearticulations(std::span<const float> sound,
                                                              const Envelope& envelope, double from,
                                                              double to, double period, double least,
                                                              double swing = 0.0);

} // namespace valveladder
