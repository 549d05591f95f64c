#include "Findings/Trend.h"

#include "Findings/Bootstrap.h"
#include "Findings/Distributions.h"
#include "Findings/LineFit.h"
#include "Findings/SpanCounts.h"
#include "Findings/Spreads.h"
#include "Findings/TimingWeakness.h"

#include <algorithm>
#include <cmath>
#include <utility>

namespace valveladder {

namespace {

constexpr double daysPerWeek = 7.0;

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

/// A point before its scatter is pooled with the other days'.
struct Measured {
    TrendPoint point;
    double unitError = 0.0; ///< standard error for a scatter of 1
    double sigma = 0.0;     ///< the scatter of these takes alone
    double freedom = 0.0;
};

struct Counts {
    double with = 0.0;
    double without = 0.0;
};

Counts countsOf(const ObservationTable& table, const Suspect& suspect) {
    Counts counts;
    for (const auto& observation : table.observations)
        (suspect.involves(table.kinds[static_cast<std::size_t>(observation.kind)]) ? counts.with
                                                                                   : counts.without) += 1.0;
    return counts;
}

/// By the fit that found it: slow, late.
void measureByFit(const ObservationTable& table, const Suspect& suspect, Measured& measured) {
    std::vector<double> y;
    for (const auto& observation : table.observations)
        y.push_back(observation.y);
    const EffectModel model = modelOf(table, y);
    const EffectFit fit(model, columnsOf(table.kinds, {suspect}), y);
    measured.point.extra.value = fit.effect(0);
    measured.sigma = fit.sigma();
    measured.unitError = measured.sigma > 0.0 ? fit.standardError(0) / measured.sigma : 0.0;
    measured.freedom = fit.freedom();
}

/// As a plain difference of two means: of spreads, of shares of errors.
void measureByMeans(const ObservationTable& table, const std::vector<double>& values, double factor,
                    const Suspect& suspect, const Counts& counts, Measured& measured) {
    double sums[2] = {0.0, 0.0}, squares[2] = {0.0, 0.0};
    for (std::size_t i = 0; i < values.size(); ++i) {
        const auto kind = static_cast<std::size_t>(table.observations[i].kind);
        const int side = suspect.involves(table.kinds[kind]) ? 0 : 1;
        sums[side] += factor * values[i];
        squares[side] += factor * factor * values[i] * values[i];
    }
    const double sizes[2] = {counts.with, counts.without};
    double within = 0.0;
    for (int side = 0; side < 2; ++side)
        within += squares[side] - sums[side] * sums[side] / sizes[side];
    measured.freedom = sizes[0] + sizes[1] - 2.0;
    measured.point.extra.value = sums[0] / sizes[0] - sums[1] / sizes[1];
    measured.sigma = std::sqrt(std::max(0.0, within) / measured.freedom);
    measured.unitError = std::sqrt(1.0 / sizes[0] + 1.0 / sizes[1]);
}

/// The suspect's measure in these takes alone; n = 0 when they do not hold enough of it.
Measured measure(std::span<const TakeEvidence> takes, const Suspect& suspect, Complaint complaint,
                 const FindingLimits& limits) {
    Measured measured;
    if (takes.empty())
        return measured;
    measured.point.day = takes.front().facts.day;
    const auto table = observe(takes, complaint);
    const Counts counts = countsOf(table, suspect);
    if (counts.with < limits.leastChanges || counts.without < limits.leastChanges ||
        counts.with + counts.without < limits.leastObservations)
        return measured;
    constexpr double percent = 100.0;
    if (complaint == Complaint::slow || complaint == Complaint::late)
        measureByFit(table, suspect, measured);
    else if (complaint == Complaint::uneven)
        measureByMeans(table, sizesAboutOwnMedian(table), meanSizeToSigma, suspect, counts, measured);
    else {
        std::vector<double> errors;
        for (const auto& observation : table.observations)
            errors.push_back(observation.y);
        measureByMeans(table, errors, percent, suspect, counts, measured);
    }
    measured.point.takes = static_cast<int>(table.takes.size());
    measured.point.extra.n = static_cast<int>(counts.with);
    return measured;
}

/// States the point with the scatter given.
TrendPoint stated(Measured measured, double sigma, double freedom) {
    auto& extra = measured.point.extra;
    measured.point.standardError = measured.unitError * sigma;
    const double reach = studentQuantile(freedom, (1.0 + intervalShare) / 2.0) * measured.point.standardError;
    extra.low = extra.value - reach;
    extra.high = extra.value + reach;
    return measured.point;
}

std::vector<TrendPoint> pooled(const std::vector<Measured>& days) {
    double squares = 0.0, freedom = 0.0;
    for (const auto& day : days) {
        squares += day.freedom * day.sigma * day.sigma;
        freedom += day.freedom;
    }
    std::vector<TrendPoint> points;
    for (const auto& day : days)
        points.push_back(stated(day, std::sqrt(squares / std::max(1.0, freedom)), std::max(1.0, freedom)));
    return points;
}

Estimate together(std::span<const TakeEvidence> takes, const Suspect& suspect, Complaint complaint,
                  const FindingLimits& limits) {
    const auto measured = measure(takes, suspect, complaint, limits);
    return measured.point.extra.n > 0 ? stated(measured, measured.sigma, measured.freedom).extra : Estimate{};
}

/// Variance of days beyond their own errors, by moments of the residuals of a line.
double varianceBetweenDays(const Eigen::MatrixXd& x, const Eigen::VectorXd& y,
                           const Eigen::VectorXd& weights) {
    const Eigen::MatrixXd information = x.transpose() * weights.asDiagonal() * x;
    const Eigen::VectorXd line = information.ldlt().solve(x.transpose() * weights.cwiseProduct(y));
    const double q = weights.cwiseProduct((y - x * line).cwiseAbs2()).sum();
    const Eigen::MatrixXd squared = x.transpose() * weights.cwiseAbs2().asDiagonal() * x;
    const double scale = weights.sum() - information.ldlt().solve(squared).trace();
    return std::max(0.0, (q - static_cast<double>(x.rows() - x.cols())) / scale);
}

std::vector<Finding> weakInFirstHalf(std::span<const TakeEvidence> takes, const FindingLimits& limits,
                                     std::uint64_t seed) {
    const auto days = byDay(takes);
    if (static_cast<int>(days.size()) < leastTrendDays)
        return {};
    const auto past = takes.first(static_cast<std::size_t>(days[days.size() / 2].data() - takes.data()));
    const auto changeovers = observe(past, Complaint::slow);
    const bool timed = static_cast<int>(changeovers.observations.size()) >= limits.leastObservations;
    const Complaint measured = timed ? Complaint::slow : Complaint::late;
    return timingWeaknesses(timed ? changeovers : observe(past, Complaint::late), measured, limits.alphaPast,
                            limits, seed)
        .claimed;
}

} // namespace

Course Trend::course() const {
    return perWeek.high < 0.0 ? Course::better : perWeek.low > 0.0 ? Course::worse : Course::steady;
}

Estimate slopePerWeek(const std::vector<TrendPoint>& days, double* p) {
    const auto rows = static_cast<Eigen::Index>(days.size());
    Eigen::MatrixXd x = Eigen::MatrixXd::Ones(rows, 2);
    Eigen::VectorXd y(rows), variances(rows);
    constexpr double leastError = 1e-6;
    for (Eigen::Index i = 0; i < rows; ++i) {
        const auto& point = days[static_cast<std::size_t>(i)];
        x(i, 1) = static_cast<double>(point.day - days.front().day) / daysPerWeek;
        y[i] = point.extra.value;
        variances[i] = std::pow(std::max(leastError, point.standardError), 2);
    }
    const double between = varianceBetweenDays(x, y, variances.cwiseInverse());
    const auto fit = leastSquares(x, y, (variances.array() + between).inverse().matrix());
    if (p)
        *p = fit.twoSidedP(1);
    return fit.estimate(1, static_cast<int>(rows));
}

Trend trendOf(std::span<const TakeEvidence> takes, const Suspect& suspect, Complaint complaint,
              const FindingLimits& limits) {
    Trend trend;
    trend.suspect = suspect;
    trend.complaint = complaint;
    const auto days = byDay(takes);
    if (static_cast<int>(days.size()) < leastTrendDays)
        return trend;
    std::vector<Measured> measured;
    for (const auto& day : days)
        if (auto one = measure(day, suspect, complaint, limits); one.point.extra.n > 0)
            measured.push_back(one);
    if (static_cast<int>(measured.size()) < leastTrendDays)
        return trend;
    trend.days = pooled(measured);
    const std::size_t third = days.size() / 3;
    const auto before = [&](std::size_t day) {
        return static_cast<std::size_t>(days[day].data() - takes.data());
    };
    trend.first = together(takes.first(before(third)), suspect, complaint, limits);
    trend.recent = together(takes.subspan(before(days.size() - third)), suspect, complaint, limits);
    trend.perWeek = slopePerWeek(trend.days, &trend.p);
    trend.resolved = trend.first.n > 0 && trend.recent.n > 0 && trend.first.low > 0.0 &&
                     trend.recent.high < limits.leastMs;
    return trend;
}

std::vector<Trend> trendsIn(std::span<const TakeEvidence> takes, const Weaknesses& now,
                            const FindingLimits& limits, std::uint64_t seed) {
    std::vector<std::pair<Suspect, Complaint>> followed;
    std::vector<Trend> trends;
    const auto follow = [&](const Finding& finding) {
        const std::pair what(finding.suspect, finding.complaint);
        if (std::ranges::count(followed, what) > 0)
            return;
        followed.push_back(what);
        auto trend = trendOf(takes, finding.suspect, finding.complaint, limits);
        if (!trend.days.empty())
            trends.push_back(std::move(trend));
    };
    for (const auto& finding : now.findings) {
        follow(finding);
        for (const auto& beneath : finding.alsoShownBy)
            if (beneath.suspect == finding.suspect)
                follow(beneath);
    }
    for (const auto& finding : weakInFirstHalf(takes, limits, seed))
        follow(finding);
    return trends;
}

} // namespace valveladder
