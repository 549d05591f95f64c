#pragma once

#include "Listening/Glide.h"
#include "Listening/PitchTrack.h"

#include <array>
#include <cstddef>
#include <span>
#include <vector>

namespace valveladder {

/// How far a glide has gone (0..1) over time, seen through two windows of `window` samples: the corners of
/// its straight pieces are rounded.
class SmearedGlide {
public:
    SmearedGlide(const Glide& glide, double window);

    [[nodiscard]] double shareAt(double place) const;
    /// Up to here the share is 0, from the other on 1.
    [[nodiscard]] double begin() const { return corners[0].place - window; }
    [[nodiscard]] double end() const { return corners[count - 1].place + window; }

private:
    struct Corner {
        double place = 0.0;
        double turn = 0.0; ///< by how much the slope changes, a sample
    };
    std::array<Corner, PitchPath::maxKnots> corners;
    std::size_t count = 0;
    double window;
};

/// A pitch track to which glides are fitted; both settled pitches are free.
class TrackFit {
public:
    /// `windowSamples`: of the track. Of the points every `stride`-th is looked at.
    TrackFit(std::span<const TrackPoint> points, double windowSamples, std::size_t stride);

    /// Where a search looks: samples.
    struct Search {
        double centre = 0.0;
        double slack = 0.0; ///< about the centre, either way
        double centreStep = 1.0;
        double maxLength = 0.0;
    };
    /// The straight glide of those about the centre that fits best; its residual is that of `error`.
    [[nodiscard]] Glide rough(const Search& search);
    /// The best that can be reached from `start` by small steps, its shape kept.
    [[nodiscard]] Glide refined(Glide start, const Search& search);

    /// How ill a glide explains the track: weighted mean of squared cents, each capped.
    [[nodiscard]] double error(const Glide& glide);

private:
    std::vector<double> places;
    std::vector<double> cents;
    std::vector<double> weights;
    std::vector<double> weightsBefore; ///< sums of all points before each, and of all
    std::vector<double> centsBefore;   ///< likewise, weighted
    std::vector<double> shares;        ///< scratch: of the points within a trial glide
    double window;
};

} // namespace valveladder
