#include "Tuning/LikelihoodFit.h"

#include "Tuning/LogisticFit.h"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>

namespace valveladder::testing {

namespace {

constexpr const char* kindNames[weighedKinds] = {"wrong", "missed", "spoke", "breath", "extra"};

struct Told {
    double likelihood;
    bool so;
};

std::vector<const KnownReport*> ofKind(std::span<const KnownReport> reports, std::size_t kind) {
    std::vector<const KnownReport*> chosen;
    for (const KnownReport& each : reports)
        if (static_cast<std::size_t>(weighedAs(each.weighed.report.kind)) == kind)
            chosen.push_back(&each);
    return chosen;
}

std::vector<Told> toldOf(std::span<const KnownReport* const> reports) {
    std::vector<Told> told;
    for (const KnownReport* each : reports)
        told.push_back({each->weighed.likelihood(), each->so});
    return told;
}

std::string row(const std::string& name, const std::vector<Told>& told) {
    constexpr double edges[] = {0.0, 0.5, 0.8, 0.95, 1.001};
    int so = 0;
    double error = 0.0;
    std::string cells;
    for (const Told& each : told) {
        so += each.so ? 1 : 0;
        error += std::pow(each.likelihood - (each.so ? 1.0 : 0.0), 2.0);
    }
    for (std::size_t k = 0; k + 1 < std::size(edges); ++k) {
        int count = 0;
        int held = 0;
        for (const Told& each : told)
            if (each.likelihood >= edges[k] && each.likelihood < edges[k + 1]) {
                ++count;
                held += each.so ? 1 : 0;
            }
        cells += fmt::format(" | {} of {}", held, count);
    }
    const auto n = static_cast<double>(std::max<std::size_t>(1, told.size()));
    const double share = so / n;
    return fmt::format("| {} | {} | {}{} | {:.3f} | {:.3f} |\n", name, told.size(), so, cells, error / n,
                       share * (1.0 - share));
}

} // namespace

std::array<ReportFeatures, weighedKinds> fittedWeights(std::span<const KnownReport> reports) {
    std::array<ReportFeatures, weighedKinds> weights{};
    for (std::size_t kind = 0; kind < weighedKinds; ++kind) {
        std::vector<Sample<reportFeatures>> samples;
        for (const KnownReport* each : ofKind(reports, kind))
            samples.push_back({featuresOf(each->weighed.evidence), each->so});
        weights[kind] = fitted(samples);
    }
    return weights;
}

LateFeatures fittedWeights(std::span<const KnownLate> late) {
    std::vector<Sample<lateFeatures>> samples;
    for (const KnownLate& each : late)
        samples.push_back({featuresOf(each.evidence), each.so});
    return fitted(samples);
}

std::string weightsHeader(const std::array<ReportFeatures, weighedKinds>& weights, const LateFeatures& late) {
    std::string rows;
    for (std::size_t kind = 0; kind < weighedKinds; ++kind)
        rows += fmt::format("    {{{:.2f}}}, // {}\n", fmt::join(weights[kind], ", "), kindNames[kind]);
    return fmt::format(R"(#pragma once

#include "Listening/ReportLikelihood.h"

#include <array>

namespace valveladder::reportlikelihood {{

/// By WeighedAs, in the order of featuresOf(); natural log odds. Written by `valveladder_tuning likelihood`.
inline constexpr std::array<ReportFeatures, weighedKinds> weights{{{{
{}}}}};
/// Of late fingers.
inline constexpr LateFeatures lateWeights{{{:.2f}}};

}} // namespace valveladder::reportlikelihood
)",
                       rows, fmt::join(late, ", "));
}

std::string calibrationTable(std::span<const KnownReport> reports, std::span<const KnownLate> late) {
    std::string text =
        "| reports | n | so | under 0.5: so | 0.5 to 0.8 | 0.8 to 0.95 | over 0.95 | mean squared error | of "
        "their share alone |\n|---|---|---|---|---|---|---|---|---|\n";
    for (std::size_t kind = 0; kind < weighedKinds; ++kind)
        text += row(kindNames[kind], toldOf(ofKind(reports, kind)));
    for (const Life life : lives) {
        std::vector<const KnownReport*> chosen;
        for (const KnownReport& each : reports)
            if (each.circumstances == nameOf(life))
                chosen.push_back(&each);
        text += row(nameOf(life), toldOf(chosen));
    }
    std::vector<const KnownReport*> all;
    for (const KnownReport& each : reports)
        all.push_back(&each);
    text += row("all of these", toldOf(all));
    std::vector<Told> lateTold;
    for (const KnownLate& each : late)
        lateTold.push_back({likelihoodOf(each.evidence), each.so});
    return text + row("late fingers", lateTold);
}

} // namespace valveladder::testing
