#include "Findings/TimingWeakness.h"

#include "Base/RobustStatistics.h"
#include "Findings/Distributions.h"
#include "Findings/Identifiability.h"
#include "Findings/MultipleTests.h"
#include "Findings/Resampling.h"

#include <algorithm>
#include <cmath>
#include <numeric>
#include <optional>
#include <set>

namespace valveladder {

namespace {

using Eigen::Index;

std::size_t at(Index index) {
    return static_cast<std::size_t>(index);
}

double onScale(double ms, Scale scale) {
    return scale == Scale::logarithm ? std::log(std::max(ms, leastLogMs)) : ms;
}

std::vector<double> valuesOf(const ObservationTable& table, Scale scale) {
    std::vector<double> y(table.observations.size());
    for (std::size_t i = 0; i < y.size(); ++i)
        y[i] = onScale(table.observations[i].y, scale);
    return y;
}

/// A finger is so much likelier beforehand to be at fault than one change alone: a hand has few fingers, a
/// drill many changes (ours, no source).
constexpr double fingerOdds = 4.0;
/// Of t values: two suspects that were in the same changes, but for what the circumstances explain.
constexpr double sameCorrelation = 0.999;

/// Kinds x selected: each kind goes to the selected suspect with the largest effect.
Eigen::MatrixXd slowestOnly(const Eigen::MatrixXd& involved, const std::vector<double>& effects) {
    Eigen::MatrixXd columns = Eigen::MatrixXd::Zero(involved.rows(), involved.cols());
    for (Index k = 0; k < involved.rows(); ++k) {
        Index slowest = -1;
        for (Index s = 0; s < involved.cols(); ++s)
            if (involved(k, s) > 0.0 && (slowest < 0 || effects[at(s)] > effects[at(slowest)]))
                slowest = s;
        if (slowest >= 0)
            columns(k, slowest) = 1.0;
    }
    return columns;
}

/// The search over suspects for one complaint.
class Search {
public:
    Search(const ObservationTable& observations, Complaint about, double allowed, const FindingLimits& given,
           std::uint64_t randomSeed)
        : table(observations), complaint(about), alpha(allowed), limits(given), seed(randomSeed),
          scale(about == Complaint::slow ? likelierScale(observations) : Scale::milliseconds),
          y(valuesOf(observations, scale)), model(modelOf(observations, y)),
          suspects(suspectsIn(observations.kinds)), involved(columnsOf(observations.kinds, suspects)) {
        const auto measured = kindCounts(table);
        counts = Eigen::Map<const Eigen::VectorXd>(measured.data(), static_cast<Index>(measured.size()));
    }

    TimingResult run() {
        while (static_cast<int>(selected.size()) < limits.mostFindings && takeNext()) {
        }
        TimingResult result;
        const auto columns = selectedColumns();
        if (!selected.empty()) {
            const EffectFit fit(model, columns, y);
            for (std::size_t i = 0; i < selected.size(); ++i)
                finish(fit, i, columns, result);
        }
        result.leads = leads;
        return result;
    }

private:
    Eigen::MatrixXd pick(const std::vector<std::size_t>& which) const {
        Eigen::MatrixXd columns(involved.rows(), static_cast<Index>(which.size()));
        for (std::size_t i = 0; i < which.size(); ++i)
            columns.col(static_cast<Index>(i)) = involved.col(static_cast<Index>(which[i]));
        return columns;
    }

    /// Columns of the selected under the rule of the slowest finger, refitted until the order holds.
    Eigen::MatrixXd selectedColumns() const {
        const Eigen::MatrixXd all = pick(selected);
        std::vector<double> effects(selected.size());
        for (std::size_t i = 0; i < effects.size(); ++i)
            effects[i] = -static_cast<double>(i); // the surest first, until effects are known
        Eigen::MatrixXd columns = slowestOnly(all, effects);
        constexpr int mostRounds = 6;
        for (int round = 0; round < mostRounds && selected.size() > 1; ++round) {
            const EffectFit fit(model, columns, y);
            for (std::size_t i = 0; i < effects.size(); ++i)
                effects[i] = columns.col(static_cast<Index>(i)).sum() > 0.0 ? fit.effect(static_cast<int>(i))
                                                                            : effects[i];
            const Eigen::MatrixXd next = slowestOnly(all, effects);
            if (next == columns)
                break;
            columns = next;
        }
        return columns;
    }

    /// Takes up the likeliest suspect if it may be claimed.
    bool takeNext() {
        const Eigen::MatrixXd known = selectedColumns();
        const Eigen::VectorXd explained = known.rowwise().sum();
        Eigen::MatrixXd open = involved;
        for (Index k = 0; k < open.rows(); ++k)
            if (explained[k] > 0.0)
                open.row(k).setZero();
        const Eigen::VectorXd openCounts = open.transpose() * counts;
        for (Index s = 0; s < open.cols(); ++s)
            if (openCounts[s] < limits.leastChanges)
                open.col(s).setZero();
        const EffectFit fit(model, known, y);
        const auto scan = fit.scan(open);
        const auto likeliest = likeliestOf(scan.t);
        if (!likeliest)
            return false;
        const Index best = *likeliest;
        Eigen::MatrixXd with(open.rows(), known.cols() + 1);
        with << known, open.col(best);
        Finding finding;
        finding.complaint = complaint;
        finding.suspect = suspects[at(best)];
        finding.t = rare(scan.t[best], fit.freedom()) ? heldDown(with, scan.t[best]) : scan.t[best];
        finding.p = adjustedP(scan, finding.t, fit.freedom());
        addRivals(scan, best, finding);
        finding.effect.n = static_cast<int>(openCounts[best]);
        finding.effect.value = inMs(scan.effect[best]);
        const bool claim = finding.p <= alpha && finding.effect.value >= limits.leastMs;
        (claim ? found : leads).push_back(finding);
        if (claim)
            selected.push_back(at(best));
        return claim;
    }

    /// Could this t be claimed at all, were it the only suspect?
    bool rare(double t, double freedom) const {
        return t > 0.0 && studentTwoSidedP(freedom, t) / 2.0 <= alpha;
    }

    /// Chance of so large a t among all suspects. One suspect's own chance is the least it can be,
    /// Bonferroni's bound the most: draws are needed only in between.
    double adjustedP(const EffectFit::Scan& scan, double t, double freedom) const {
        const double alone = t > 0.0 ? studentTwoSidedP(freedom, t) / 2.0 : 0.5;
        const double most = std::min(1.0, alone * static_cast<double>(scan.t.size()));
        constexpr double surelyRare = 0.05; // of alpha
        if (alone > alpha || most < surelyRare * alpha)
            return most;
        return MaxT(scan.correlation, freedom, seed).p(t);
    }

    /// With ten takes or more the effect's own spread from take to take counts against it.
    double heldDown(const Eigen::MatrixXd& columns, double t) const {
        if (static_cast<int>(table.takes.size()) < resampling::wholeTakesFrom)
            return t;
        const EffectFit fit(model, columns, y);
        const int last = static_cast<int>(columns.cols()) - 1;
        double shares = 0.0;
        for (const double share : fit.takeShares(last))
            shares += share * share;
        const double own = fit.standardError(last);
        const double spread = takeToTakeSpread(table, fit, last);
        return t * own / std::sqrt(own * own + spread * spread * shares);
    }

    /// Log-likelihood ratio of a suspect's own effect, less what its kind owes: one finger of few is likelier
    /// beforehand than one change of many.
    double standing(Index suspect, double t) const {
        return t * t / 2.0 - (suspects[at(suspect)].isFinger() ? 0.0 : std::log(fingerOdds));
    }

    std::optional<Index> likeliestOf(const Eigen::VectorXd& t) const {
        std::optional<Index> best;
        for (Index s = 0; s < t.size(); ++s)
            if (t[s] > 0.0 && (!best || standing(s, t[s]) > standing(*best, t[*best])))
                best = s;
        return best;
    }

    void addRivals(const EffectFit::Scan& scan, Index best, Finding& finding) const {
        for (Index s = 0; s < scan.t.size(); ++s) {
            if (s == best || scan.t[s] <= 0.0)
                continue;
            const double lead = standing(best, scan.t[best]) - standing(s, scan.t[s]);
            if (scan.correlation(s, best) > sameCorrelation)
                finding.twins.push_back(suspects[at(s)]);
            else if (lead < std::log(limits.rivalOdds))
                finding.rivals.push_back(suspects[at(s)]);
        }
    }

    double otherLevel() const {
        const Eigen::VectorXd any = pick(selected).rowwise().sum();
        std::vector<double> others;
        for (const auto& observation : table.observations)
            if (selected.empty() || any[observation.kind] == 0.0)
                others.push_back(observation.y);
        return others.empty() ? 0.0 : median(std::move(others));
    }

    double inMs(double effect) const {
        return scale == Scale::logarithm ? otherLevel() * std::expm1(effect) : effect;
    }

    /// States a claimed finding with its interval; one whose interval holds zero becomes a lead.
    void finish(const EffectFit& fit, std::size_t i, const Eigen::MatrixXd& columns, TimingResult& result) {
        Finding finding = found[i];
        const int column = static_cast<int>(i);
        finding.others = complaint == Complaint::slow ? otherLevel() : 0.0;
        finding.effect.value = inMs(fit.effect(column));
        const auto interval = effectInterval(table, fit, column, seed + i);
        finding.effect.low = inMs(interval.low);
        finding.effect.high = inMs(interval.high);
        double changes = 0.0;
        std::set<int> takes;
        for (const auto& observation : table.observations)
            if (columns(observation.kind, static_cast<Index>(i)) > 0.0) {
                changes += 1.0;
                takes.insert(observation.take);
            }
        finding.effect.n = static_cast<int>(changes);
        finding.takes = static_cast<int>(takes.size());
        finding.claimed = finding.effect.low > 0.0;
        (finding.claimed ? result.claimed : leads).push_back(finding);
    }

    const ObservationTable& table;
    Complaint complaint;
    double alpha;
    FindingLimits limits;
    std::uint64_t seed;
    Scale scale;
    std::vector<double> y;
    EffectModel model;
    std::vector<Suspect> suspects;
    Eigen::MatrixXd involved; // kinds x suspects
    Eigen::VectorXd counts;   // of each kind, measured
    std::vector<std::size_t> selected;
    std::vector<Finding> found;
    std::vector<Finding> leads;
};

} // namespace

namespace {

NoiseShape noiseOf(const EffectModel& white, const std::vector<double>& y) {
    // Fingers stand in for whatever is not known yet, so that a weak one is not taken for drift.
    const auto& table = white.table();
    const Eigen::MatrixXd fingers = columnsOf(table.kinds, fingerEffects(maxValves));
    return likeliestNoise(table, EffectFit(white, fingers, y).heldResiduals());
}

} // namespace

EffectModel modelOf(const ObservationTable& table, const std::vector<double>& y) {
    return {table, noiseOf(EffectModel(table, {}), y)};
}

EffectModel plainModelOf(const ObservationTable& table, const std::vector<double>& y) {
    const Eigen::MatrixXd nothing = Eigen::MatrixXd::Zero(static_cast<Index>(table.kinds.size()), 1);
    return {table, noiseOf(EffectModel(table, {}, nothing), y), nothing};
}

Scale likelierScale(const ObservationTable& whole) {
    const ObservationTable table = thinned(whole, takesForScale);
    const auto logLikelihood = [&](Scale scale) {
        const auto y = valuesOf(table, scale);
        const EffectModel model(table, {});
        const EffectFit fit(model, Eigen::MatrixXd(static_cast<Index>(table.kinds.size()), 0), y);
        // Of double exponential residuals: heavy tails weigh less than by squares, a skew still shows.
        constexpr double leastSize = 1e-9; // units of y: where nothing is left, a logarithm all the same
        double size = 0.0;
        for (const double residual : fit.left(y))
            size += std::abs(residual) / static_cast<double>(y.size());
        double jacobian = 0.0;
        if (scale == Scale::logarithm)
            jacobian = -std::accumulate(y.begin(), y.end(), 0.0);
        return jacobian - static_cast<double>(y.size()) * std::log(std::max(leastSize, size));
    };
    return logLikelihood(Scale::logarithm) > logLikelihood(Scale::milliseconds) ? Scale::logarithm
                                                                                : Scale::milliseconds;
}

TimingResult timingWeaknesses(const ObservationTable& table, Complaint complaint, double alpha,
                              const FindingLimits& limits, std::uint64_t seed) {
    if (static_cast<int>(table.observations.size()) < limits.leastObservations)
        return {};
    return Search(table, complaint, alpha, limits, seed).run();
}

} // namespace valveladder
