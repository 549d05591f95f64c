#pragma once

#include "Listening/HeardNote.h"

#include <span>

namespace valveladder {

/// What speaks for a second articulation within a tone, beside how the take's other tones go.
struct RearticulationEvidence {
    double weight = 0.0;   ///< HeardNote::Again::weight
    double sameness = 0.0; ///< HeardNote::Again::sameness
    /// How far the level dips below the shape of comparable tones, in spreads of these about it; 0 where
    /// there are too few. Where those of its own pitch tell less of a dip, as they do.
    double dipOverUsual = 0.0;
    /// What the greatest weight within a tone does not pass in most tones of the take.
    double usualWeight = 0.0;

    /// Natural logarithm of the odds. A logistic fit to the tuning half of the rendered takes.
    [[nodiscard]] double logOdds() const;
};

/// Fills Again::logOdds of every rearticulation. Every player and every instrument has its own way to speak
/// and to swell: what most tones of a take do at some time after their onset is no second articulation.
/// `notes` are those of a take as they were heard, in order, a tone's articulations one after the other.
void weighRearticulations(std::span<HeardNote> notes);

} // namespace valveladder
