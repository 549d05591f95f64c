#pragma once

#include "Support/KnownReports.h"

#include <array>
#include <span>
#include <string>

namespace valveladder::testing {

/// Fits ReportLikelihood's weights: for each kind a logistic regression, all weights but the first held
/// towards 0 as if each were known within 1 beforehand.
[[nodiscard]] std::array<ReportFeatures, weighedKinds> fittedWeights(std::span<const KnownReport> reports);

[[nodiscard]] LateFeatures fittedWeights(std::span<const KnownLate> late);

/// ReportLikelihoodConstants.h with these weights.
[[nodiscard]] std::string weightsHeader(const std::array<ReportFeatures, weighedKinds>& weights,
                                        const LateFeatures& late);

/// What the weights in use say of reports that are known: a table by kind and by likelihood.
[[nodiscard]] std::string calibrationTable(std::span<const KnownReport> reports,
                                           std::span<const KnownLate> late);

} // namespace valveladder::testing
