#include "Findings/Trend.h"

#include "Base/RobustStatistics.h"
#include "Findings/Bootstrap.h"
#include "Findings/Distributions.h"
#include "Findings/LineFit.h"
#include "Findings/SpanCounts.h"
#include "Findings/Spreads.h"
#include "Findings/TimingWeakness.h"

#include <algorithm>
#include <array>
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

/// A suspect's measure on one day.
struct Measured {
    TrendPoint point;
    double share = 0.0; ///< of the day in what all days say together
};

struct Counts {
    double with = 0.0;
    double without = 0.0;
};

/// One table of all takes, and the day of each of them.
struct Days {
    ObservationTable table;
    std::vector<double> y;
    std::vector<int> dayOfTake; ///< 0.. in order
    std::vector<std::int64_t> days;
    std::vector<bool> involved; ///< by kind
    std::vector<Counts> counts; ///< by day
    std::vector<int> takes;     ///< by day

    Days(std::span<const TakeEvidence> evidence, const Suspect& suspect, Complaint complaint)
        : table(observe(evidence, complaint)) {
        for (const auto& take : table.takes) {
            const std::int64_t day = evidence[static_cast<std::size_t>(take.evidence)].facts.day;
            if (days.empty() || days.back() != day) {
                days.push_back(day);
                takes.push_back(0);
            }
            dayOfTake.push_back(static_cast<int>(days.size()) - 1);
            ++takes.back();
        }
        for (const auto& kind : table.kinds)
            involved.push_back(suspect.involves(kind));
        counts.resize(days.size());
        for (const auto& observation : table.observations) {
            y.push_back(observation.y);
            auto& count = counts[day(observation)];
            (isInvolved(observation) ? count.with : count.without) += 1.0;
        }
    }

    std::size_t day(const Observation& observation) const {
        return static_cast<std::size_t>(dayOfTake[static_cast<std::size_t>(observation.take)]);
    }
    bool isInvolved(const Observation& observation) const {
        return involved[static_cast<std::size_t>(observation.kind)];
    }
    bool enough(std::size_t day, const FindingLimits& limits) const {
        return counts[day].with >= limits.leastChanges && counts[day].without >= limits.leastChanges &&
               counts[day].with + counts[day].without >= limits.leastObservations;
    }
};

/// By the fit that found it: each day's own effect beside what all days' circumstances are together, its
/// residuals held as the fit holds them, about the day's own effect.
std::vector<Measured> daysByFit(const Days& all, const Suspect& suspect, double& freedom) {
    constexpr int rounds = 6;
    const EffectModel model = modelOf(all.table, all.y);
    const EffectFit fit(model, columnsOf(all.table.kinds, {suspect}), all.y);
    freedom = fit.freedom();
    const auto leverages = fit.leverages(0);
    const auto left = fit.left(all.y);
    std::vector<double> column;
    for (const auto& observation : all.table.observations)
        column.push_back(all.isInvolved(observation) ? 1.0 : 0.0);
    const Eigen::VectorXd nothing = Eigen::VectorXd::Zero(static_cast<Eigen::Index>(all.table.kinds.size()));
    const auto ownColumn = model.residuals(column, nothing);
    std::vector<double> shares(all.days.size()), departures(all.days.size());
    for (std::size_t i = 0; i < column.size(); ++i)
        shares[all.day(all.table.observations[i])] += leverages[i] * column[i];
    for (int round = 0; round < rounds; ++round) {
        std::vector<double> steps(all.days.size());
        for (std::size_t i = 0; i < left.size(); ++i) {
            const std::size_t day = all.day(all.table.observations[i]);
            steps[day] += leverages[i] * huberPsi(left[i] - departures[day] * ownColumn[i], fit.limit());
        }
        for (std::size_t day = 0; day < steps.size(); ++day)
            if (shares[day] > 0.0)
                departures[day] += steps[day] / fit.inside() / shares[day];
    }
    std::vector<double> variances(all.days.size());
    const auto takeShares = fit.takeShares(0);
    const auto takeErrors = fit.takeStandardErrors(0);
    for (std::size_t t = 0; t < takeShares.size(); ++t)
        variances[static_cast<std::size_t>(all.dayOfTake[t])] +=
            takeShares[t] * takeShares[t] * takeErrors[t] * takeErrors[t];
    std::vector<Measured> measured(all.days.size());
    for (std::size_t day = 0; day < measured.size(); ++day) {
        measured[day].share = shares[day];
        measured[day].point.extra.value = fit.effect(0) + departures[day];
        measured[day].point.standardError = shares[day] > 0.0 ? std::sqrt(variances[day]) / shares[day] : 0.0;
    }
    return measured;
}

/// As plain differences of two means a day: of spreads, of shares of errors; the scatter is all days'
/// together.
std::vector<Measured> daysByMeans(const Days& all, const std::vector<double>& values, double factor,
                                  double& freedom) {
    struct Sums {
        double sum = 0.0;
        double squares = 0.0;
    };
    std::vector<std::array<Sums, 2>> sums(all.days.size());
    for (std::size_t i = 0; i < values.size(); ++i) {
        const auto& observation = all.table.observations[i];
        auto& side = sums[all.day(observation)][all.isInvolved(observation) ? 0U : 1U];
        side.sum += factor * values[i];
        side.squares += factor * factor * values[i] * values[i];
    }
    double within = 0.0;
    freedom = 0.0;
    std::vector<Measured> measured(all.days.size());
    for (std::size_t day = 0; day < measured.size(); ++day) {
        const double sizes[2] = {all.counts[day].with, all.counts[day].without};
        if (sizes[0] < 1.0 || sizes[1] < 1.0)
            continue;
        for (std::size_t side = 0; side < 2; ++side)
            within += sums[day][side].squares - sums[day][side].sum * sums[day][side].sum / sizes[side];
        freedom += sizes[0] + sizes[1] - 2.0;
        const double unit = 1.0 / sizes[0] + 1.0 / sizes[1];
        measured[day].share = 1.0 / unit;
        measured[day].point.extra.value = sums[day][0].sum / sizes[0] - sums[day][1].sum / sizes[1];
        measured[day].point.standardError = std::sqrt(unit);
    }
    for (auto& day : measured)
        day.point.standardError *= std::sqrt(std::max(0.0, within) / std::max(1.0, freedom));
    return measured;
}

std::vector<Measured> measure(const Days& all, const Suspect& suspect, Complaint complaint, double& freedom) {
    constexpr double percent = 100.0;
    if (complaint == Complaint::slow || complaint == Complaint::late)
        return daysByFit(all, suspect, freedom);
    if (complaint == Complaint::uneven)
        return daysByMeans(all, sizesAboutOwnMedian(all.table), meanSizeToSigma, freedom);
    return daysByMeans(all, all.y, percent, freedom);
}

void state(Estimate& estimate, double standardError, double freedom) {
    const double reach = studentReach(std::max(1.0, freedom), intervalShare) * standardError;
    estimate.low = estimate.value - reach;
    estimate.high = estimate.value + reach;
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

/// Days as rows of ones and weeks since the first, their values and the variances of their errors.
struct DayRows {
    Eigen::MatrixXd x;
    Eigen::VectorXd y, variances;

    explicit DayRows(const std::vector<TrendPoint>& days)
        : x(Eigen::MatrixXd::Ones(static_cast<Eigen::Index>(days.size()), 2)), y(x.rows()),
          variances(x.rows()) {
        constexpr double leastError = 1e-6;
        for (Eigen::Index i = 0; i < x.rows(); ++i) {
            const auto& point = days[static_cast<std::size_t>(i)];
            x(i, 1) = static_cast<double>(point.day - days.front().day) / daysPerWeek;
            y[i] = point.extra.value;
            variances[i] = std::pow(std::max(leastError, point.standardError), 2);
        }
    }
    [[nodiscard]] double between() const { return varianceBetweenDays(x, y, variances.cwiseInverse()); }
};

/// Of these days beyond their own errors; 0 with fewer than two.
double varianceAboutMean(std::span<const Measured> days) {
    if (days.size() < 2)
        return 0.0;
    std::vector<TrendPoint> points;
    for (const auto& day : days)
        points.push_back(day.point);
    const DayRows rows(points);
    return varianceBetweenDays(rows.x.leftCols(1), rows.y, rows.variances.cwiseInverse());
}

/// Days taken together, by their shares; what they differ by among themselves counts.
Estimate together(std::span<const Measured> days, double freedom) {
    Estimate estimate;
    double shares = 0.0, variance = 0.0;
    const double betweenDays = varianceAboutMean(days);
    for (const auto& day : days) {
        shares += day.share;
        estimate.value += day.share * day.point.extra.value;
        variance += day.share * day.share * (std::pow(day.point.standardError, 2) + betweenDays);
        estimate.n += day.point.extra.n;
    }
    if (shares <= 0.0)
        return {};
    estimate.value /= shares;
    state(estimate, std::sqrt(variance) / shares, freedom);
    return estimate;
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
    const DayRows rows(days);
    const auto fit =
        leastSquares(rows.x, rows.y, (rows.variances.array() + rows.between()).inverse().matrix());
    if (p)
        *p = fit.twoSidedP(1);
    return fit.estimate(1, static_cast<int>(days.size()));
}

Trend trendOf(std::span<const TakeEvidence> takes, const Suspect& suspect, Complaint complaint,
              const FindingLimits& limits) {
    Trend trend;
    trend.suspect = suspect;
    trend.complaint = complaint;
    if (static_cast<int>(byDay(takes).size()) < leastTrendDays)
        return trend;
    const Days all(takes, suspect, complaint);
    double freedom = 1.0;
    std::vector<Measured> measured = measure(all, suspect, complaint, freedom);
    for (std::size_t day = 0; day < measured.size(); ++day) {
        auto& point = measured[day].point;
        point.day = all.days[day];
        point.takes = all.takes[day];
        point.extra.n = all.enough(day, limits) ? static_cast<int>(all.counts[day].with) : 0;
        state(point.extra, point.standardError, freedom);
    }
    std::erase_if(measured, [](const Measured& day) { return day.point.extra.n == 0 || day.share <= 0.0; });
    if (static_cast<int>(measured.size()) < leastTrendDays)
        return trend;
    for (const auto& day : measured)
        trend.days.push_back(day.point);
    const std::size_t third = measured.size() / 3;
    const std::span<const Measured> span(measured);
    trend.first = together(span.first(third), freedom);
    trend.recent = together(span.last(third), freedom);
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
