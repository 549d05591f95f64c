#pragma once

#include "Findings/Observations.h"
#include "Listening/Performance.h"

#include <cstdint>
#include <functional>
#include <vector>

namespace valveladder {

/// Sums of a measure in one cluster (a take, or a segment where takes are few): with the suspect involved,
/// and without.
struct Contrast {
    double with = 0.0;
    double without = 0.0;
    double countWith = 0.0;
    double countWithout = 0.0;

    Contrast& operator+=(const Contrast& other);
};

/// One contrast for each cluster; `values` has one entry for each observation, weighted by the take's age.
[[nodiscard]] std::vector<Contrast> contrasts(const ObservationTable& table,
                                              const std::vector<double>& values,
                                              const std::vector<bool>& kindInvolved);

using ContrastStatistic = std::function<double(const Contrast&)>;

/// The statistic of all clusters together with its 90 % interval by resampling clusters (percentiles). n is
/// left to the caller.
[[nodiscard]] Estimate contrastInterval(const std::vector<Contrast>& clusters,
                                        const ContrastStatistic& statistic, std::uint64_t seed);

} // namespace valveladder
