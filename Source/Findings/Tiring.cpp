#include "Findings/Tiring.h"

#include "Base/Units.h"
#include "Findings/Identifiability.h"
#include "Findings/LineFit.h"
#include "Findings/MultipleTests.h"

#include <algorithm>
#include <cmath>

namespace valveladder {

namespace {

constexpr double slopeMinutes = 10.0; ///< slopes are told for so many

struct Point {
    int sitting = 0;
    double tenMinutes = 0.0; ///< slopeMinutes = 1
    double bpm = 0.0;
    double value = 0.0;
};

std::vector<int> sittingsOf(std::span<const TakeEvidence> takes) {
    std::vector<int> sittings(takes.size(), 0);
    for (std::size_t i = 1; i < takes.size(); ++i) {
        const double pause =
            static_cast<double>(takes[i].facts.startedUtcMs - takes[i - 1].facts.endedUtcMs) / msPerMinute;
        sittings[i] = sittings[i - 1] + (pause > tiring::sittingGapMinutes ? 1 : 0);
    }
    return sittings;
}

/// Slope against minutes, each sitting with its own level, tempo taken out where it varies within sittings.
std::optional<std::pair<Estimate, double>> slopeOf(std::vector<Point> points) {
    if (static_cast<int>(points.size()) < tiring::leastTakes)
        return std::nullopt;
    std::map<int, std::pair<int, Eigen::Vector3d>> sums;
    for (const auto& point : points) {
        auto& [count, sum] = sums.try_emplace(point.sitting, 0, Eigen::Vector3d::Zero()).first->second;
        ++count;
        sum += Eigen::Vector3d(point.tenMinutes, point.bpm, point.value);
    }
    const auto rows = static_cast<Eigen::Index>(points.size());
    Eigen::MatrixXd x(rows, 2);
    Eigen::VectorXd y(rows);
    for (Eigen::Index i = 0; i < rows; ++i) {
        const auto& point = points[static_cast<std::size_t>(i)];
        const auto& [count, sum] = sums.at(point.sitting);
        x(i, 0) = point.tenMinutes - sum[0] / count;
        x(i, 1) = point.bpm - sum[1] / count;
        y[i] = point.value - sum[2] / count;
    }
    if (x.col(0).cwiseAbs().maxCoeff() * slopeMinutes < tiring::leastMinutes / 2.0)
        return std::nullopt;
    const bool tempoVaries = x.col(1).cwiseAbs().maxCoeff() > 1e-6;
    LineFit fit = leastSquares(tempoVaries ? x : Eigen::MatrixXd(x.col(0)), y);
    // The sittings' levels were taken out beforehand and cost a degree of freedom each.
    const double freedom = fit.freedom - static_cast<double>(sums.size());
    if (freedom < 2.0)
        return std::nullopt;
    fit.standardErrors *= std::sqrt(fit.freedom / freedom);
    fit.freedom = freedom;
    return std::pair(fit.estimate(0, static_cast<int>(rows)), fit.twoSidedP(0));
}

std::optional<double> meanChangeover(const TakeEvidence& take) {
    double sum = 0.0;
    int count = 0;
    for (const auto& change : take.changes)
        if (change.changeoverMs) {
            sum += static_cast<double>(*change.changeoverMs);
            ++count;
        }
    return count > 0 ? std::optional(sum / count) : std::nullopt;
}

std::optional<double> meanSpread(const TakeEvidence& take) {
    double sum = 0.0;
    int count = 0;
    for (const auto& segment : take.segments)
        if (segment.ioiSpreadMs) {
            sum += *segment.ioiSpreadMs;
            ++count;
        }
    return count > 0 ? std::optional(sum / count) : std::nullopt;
}

/// Mean changeover with the finger less that without.
std::optional<double> fingerContrast(const TakeEvidence& take, const Suspect& finger) {
    double sums[2] = {0.0, 0.0};
    int counts[2] = {0, 0};
    for (const auto& change : take.changes)
        if (change.changeoverMs) {
            const int with = finger.involves(change) ? 1 : 0;
            sums[with] += static_cast<double>(*change.changeoverMs);
            ++counts[with];
        }
    if (counts[0] == 0 || counts[1] == 0)
        return std::nullopt;
    return sums[1] / counts[1] - sums[0] / counts[0];
}

} // namespace

std::vector<double> minutesBefore(std::span<const TakeEvidence> takes) {
    const auto sittings = sittingsOf(takes);
    std::vector<double> minutes(takes.size(), 0.0);
    for (std::size_t i = 1; i < takes.size(); ++i) {
        const auto& last = takes[i - 1].facts;
        const double length = static_cast<double>(last.endedUtcMs - last.startedUtcMs) / msPerMinute;
        if (sittings[i] == sittings[i - 1])
            minutes[i] = minutes[i - 1] + std::max(0.0, length);
    }
    return minutes;
}

std::vector<Tiring> tiringIn(std::span<const TakeEvidence> takes) {
    const auto sittings = sittingsOf(takes);
    const auto minutes = minutesBefore(takes);
    std::vector<Tiring> found;
    const auto tryOne = [&](std::optional<Suspect> finger, bool evenness, const auto& measure) {
        std::vector<Point> points;
        for (std::size_t i = 0; i < takes.size(); ++i)
            if (const auto value = measure(takes[i]))
                points.push_back({sittings[i], minutes[i] / slopeMinutes, takes[i].facts.playedBpm, *value});
        if (const auto slope = slopeOf(std::move(points)))
            found.push_back({finger, evenness, slope->first, slope->second});
    };
    tryOne(std::nullopt, false, meanChangeover);
    tryOne(std::nullopt, true, meanSpread);
    for (const auto& finger : fingerEffects(maxValves))
        tryOne(finger, false, [&](const TakeEvidence& take) { return fingerContrast(take, finger); });
    std::vector<double> chances;
    for (const auto& one : found)
        chances.push_back(one.p);
    const auto adjusted = holm(chances);
    for (std::size_t i = 0; i < found.size(); ++i)
        found[i].p = adjusted[i];
    return found;
}

} // namespace valveladder
