#include "Listening/ReportLikelihood.h"

#include "Listening/ReportLikelihoodConstants.h"

#include <algorithm>
#include <cmath>
#include <numeric>

namespace valveladder {

namespace {

constexpr double mostLog = 3.0;
constexpr double leastAsked = 0.02; ///< seconds
constexpr double leastShare = 0.05; ///< of the time asked for
constexpr double decibelsAUnit = 10.0;
constexpr double mostDecibels = 30.0;
constexpr double mostLogOdds = 12.0;
constexpr double logOddsAUnit = 4.0;

/// Of late fingers: seconds, mismatches and their ratios.
constexpr double usualApart = 0.02;
constexpr double leastApart = 0.002;
constexpr double leastMismatch = 0.001;
constexpr double mostRatio = 10.0;
/// Of two orders that fit so nearly alike neither is likelier than the other, and there may be none.
constexpr double tiedRatio = 1.05;
constexpr double mostTied = 1.0 / 3.0;

template <std::size_t size>
double likelihood(const std::array<double, size>& features, const std::array<double, size>& weights) {
    const double logOdds = std::inner_product(features.begin(), features.end(), weights.begin(), 0.0);
    return 1.0 / (1.0 + std::exp(-logOdds));
}

} // namespace

ReportFeatures featuresOf(const ReportEvidence& evidence) {
    const double asked = std::max(leastAsked, evidence.askedSeconds);
    const auto logShare = [&](double seconds) {
        return std::clamp(std::log(std::max(leastShare, seconds / asked)), -mostLog, mostLog);
    };
    return {1.0,
            logShare(evidence.seconds),
            std::clamp(evidence.levelDb, -mostDecibels, mostDecibels) / decibelsAUnit,
            evidence.periodicity,
            2.0 * std::abs(evidence.offPitch),
            evidence.struck ? 1.0 : 0.0,
            std::min(mostLog, std::log1p(std::abs(evidence.interval))),
            std::clamp(evidence.rearticulationLogOdds, -mostLogOdds, mostLogOdds) / logOddsAUnit,
            logShare(evidence.silentSeconds)};
}

WeighedAs weighedAs(ReportKind kind) {
    switch (kind) {
    case ReportKind::wrong:
    case ReportKind::valves:
        return WeighedAs::wrong;
    case ReportKind::missed:
        return WeighedAs::missed;
    case ReportKind::split:
        return WeighedAs::spoke;
    case ReportKind::breath:
        return WeighedAs::breath;
    case ReportKind::cracked: // the partial that sounded first is a note beside it
    case ReportKind::extra:
        return WeighedAs::extra;
    }
    return WeighedAs::extra;
}

LateFeatures featuresOf(const LateEvidence& evidence) {
    return {1.0, std::log(std::max(leastApart, evidence.apartSeconds) / usualApart),
            std::log(std::max(leastMismatch, evidence.mismatch)),
            std::log(std::clamp(evidence.rivalRatio, 1.0 / mostRatio, mostRatio))};
}

double likelihoodOf(WeighedAs kind, const ReportEvidence& evidence) {
    return likelihood(featuresOf(evidence), reportlikelihood::weights[static_cast<std::size_t>(kind)]);
}

double likelihoodOf(const LateEvidence& evidence) {
    const double alone = likelihood(featuresOf(evidence), reportlikelihood::lateWeights);
    return evidence.rivalRatio < tiedRatio ? std::min(alone, mostTied) : alone;
}

} // namespace valveladder
