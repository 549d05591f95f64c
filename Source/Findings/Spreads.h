#pragma once

#include "Findings/Observations.h"

#include <vector>

namespace valveladder {

/// For normal deviations, spread = mean |deviation| * sqrt(pi / 2).
inline constexpr double meanSizeToSigma = 1.2533141373155;

/// |what circumstances leave of a measure, from the median of its own change|, for each observation: a change
/// that is met after accents and elsewhere is not uneven for that.
[[nodiscard]] std::vector<double> sizesAboutOwnMedian(const ObservationTable& table);

} // namespace valveladder
