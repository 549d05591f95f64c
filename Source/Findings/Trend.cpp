#include "Findings/Trend.h"

#include "Findings/Beside.h"
#include "Findings/LineFit.h"
#include "Findings/TimingWeakness.h"

#include <algorithm>
#include <cmath>
#include <tuple>
#include <utility>

namespace valveladder {

namespace {

std::vector<std::span<const TakeEvidence>> byDay(std::span<const TakeEvidence> takes) {
    std::vector<std::span<const TakeEvidence>> days;
    for (std::size_t begin = 0; begin < takes.size();) {
        std::size_t end = begin + 1;
        while (end < takes.size() && takes[end].facts.day == takes[begin].facts.day)
            ++end;
        days.push_back(takes.subspan(begin, end - begin));
        begin = end;
    }
    return days;
}

/// The suspect's effect in these takes alone; n = 0 when they do not hold enough of it.
TrendPoint measure(std::span<const TakeEvidence> takes, const Suspect& suspect, const FindingLimits& limits,
                   std::uint64_t seed) {
    TrendPoint point;
    if (takes.empty())
        return point;
    point.day = takes.front().facts.day;
    const auto table = observe(takes, Complaint::slow);
    const auto columns = columnsOf(table.kinds, {suspect});
    double involved = 0.0;
    for (const auto& cell : table.cells)
        involved += cell.count * columns(cell.kind, 0);
    const auto all = static_cast<double>(table.observations.size());
    if (involved < limits.leastChanges || all - involved < limits.leastChanges ||
        all < limits.leastObservations)
        return point;
    std::vector<double> y;
    for (const auto& observation : table.observations)
        y.push_back(observation.y);
    const EffectFit fit(table, columns, y);
    const auto interval = resampledInterval(table, fit, 0, seed);
    point.extraMs = {fit.effect(0), interval.low, interval.high, static_cast<int>(involved)};
    point.takes = static_cast<int>(table.takes.size());
    return point;
}

std::vector<Finding> weakInFirstHalf(std::span<const TakeEvidence> takes, const FindingLimits& limits,
                                     std::uint64_t seed) {
    const auto days = byDay(takes);
    if (static_cast<int>(days.size()) < leastTrendDays)
        return {};
    const auto half = static_cast<std::size_t>(days[days.size() / 2].data() - takes.data());
    const auto past = observe(takes.first(half), Complaint::slow);
    return timingWeaknesses(past, Complaint::slow, limits.alphaPast, limits, seed).claimed;
}

void fitSlope(Trend& trend) {
    const auto rows = static_cast<Eigen::Index>(trend.days.size());
    Eigen::MatrixXd x = Eigen::MatrixXd::Ones(rows, 2);
    Eigen::VectorXd y(rows), weights(rows);
    constexpr double daysPerWeek = 7.0;
    constexpr double leastWidth = 1e-3;
    for (Eigen::Index i = 0; i < rows; ++i) {
        const auto& point = trend.days[static_cast<std::size_t>(i)];
        x(i, 1) = static_cast<double>(point.day - trend.days.front().day) / daysPerWeek;
        y[i] = point.extraMs.value;
        const double width = std::max(leastWidth, point.extraMs.high - point.extraMs.low);
        weights[i] = 1.0 / (width * width);
    }
    const auto fit = leastSquares(x, y, weights);
    trend.perWeekMs = fit.estimate(1, static_cast<int>(rows));
    trend.p = fit.twoSidedP(1);
}

} // namespace

Trend trendOf(std::span<const TakeEvidence> takes, const Suspect& suspect, const FindingLimits& limits,
              std::uint64_t seed) {
    Trend trend;
    trend.suspect = suspect;
    const auto days = byDay(takes);
    if (static_cast<int>(days.size()) < leastTrendDays)
        return trend;
    const std::size_t third = days.size() / 3;
    const std::size_t firstTakes = static_cast<std::size_t>(days[third].data() - takes.data());
    const std::size_t lastFrom = static_cast<std::size_t>(days[days.size() - third].data() - takes.data());
    auto thirds = std::async(launchBeside(takes), [&] {
        return std::pair{measure(takes.first(firstTakes), suspect, limits, seed).extraMs,
                         measure(takes.subspan(lastFrom), suspect, limits, seed).extraMs};
    });
    for (const auto& day : days) {
        const auto point = measure(day, suspect, limits, seed);
        if (point.extraMs.n > 0)
            trend.days.push_back(point);
    }
    if (static_cast<int>(trend.days.size()) < leastTrendDays) {
        trend.days.clear();
        return trend;
    }
    std::tie(trend.first, trend.recent) = thirds.get();
    fitSlope(trend);
    trend.resolved = trend.first.n > 0 && trend.recent.n > 0 && trend.first.low > 0.0 &&
                     trend.recent.high < limits.leastMs;
    return trend;
}

std::vector<Trend> trendsIn(std::span<const TakeEvidence> takes, const Weaknesses& now,
                            const FindingLimits& limits, std::uint64_t seed) {
    auto past = std::async(launchBeside(takes), [&] { return weakInFirstHalf(takes, limits, seed); });
    std::vector<Suspect> followed;
    std::vector<Trend> trends;
    const auto follow = [&](const std::vector<Finding>& findings) {
        for (const auto& finding : findings) {
            if (finding.complaint != Complaint::slow || std::ranges::count(followed, finding.suspect) > 0)
                continue;
            followed.push_back(finding.suspect);
            auto trend = trendOf(takes, finding.suspect, limits, seed);
            if (!trend.days.empty())
                trends.push_back(std::move(trend));
        }
    };
    follow(now.findings);
    follow(past.get());
    return trends;
}

} // namespace valveladder
