#pragma once

#include "Listening/HeardNote.h"

#include <array>
#include <cstddef>
#include <span>
#include <vector>

namespace valveladder {

inline constexpr std::size_t rearticulationFeatures = 6;
using RearticulationFeatures = std::array<double, rearticulationFeatures>;

/// What speaks for a second articulation within a tone, beside how the take's other tones go.
struct RearticulationEvidence {
    double weight = 0.0;      ///< HeardNote::Again::weight
    double sameness = 0.0;    ///< HeardNote::Again::sameness
    double commonDipDb = 0.0; ///< HeardNote::Again::commonDipDb
    /// How far the level dips below the shape of comparable tones, in spreads of these about it; 0 where
    /// there are too few. Where those of its own pitch tell less of a dip, as they do.
    double dipOverUsual = 0.0;
    /// Share of the take's other tones, begun alike and on its pitch, that seem struck again as much at the
    /// same time after their beginning, 0..1; the fewer of them there are, the more it is led by those of any
    /// pitch at any time.
    double recurrence = 0.0;

    /// As numbers that a linear fit can weigh, the first of them 1.
    [[nodiscard]] RearticulationFeatures features() const;
    /// Natural logarithm of the odds: a logistic fit to takes of the tuning parts (Tests/Tuning).
    [[nodiscard]] double logOdds() const;
};

struct WeighedRearticulation {
    std::size_t note = 0; ///< of those that were given
    RearticulationEvidence evidence;
};

/// The evidence of every rearticulation among notes. Every player and every instrument has its own way to
/// speak and to swell: what most tones of a take do at some time after their onset is no second articulation.
/// `notes` are those of a take as they were heard, in order, a tone's articulations one after the other.
[[nodiscard]] std::vector<WeighedRearticulation> rearticulationsAmong(std::span<const HeardNote> notes);

/// Fills Again::logOdds by that.
void weighRearticulations(std::span<HeardNote> notes);

} // namespace valveladder
