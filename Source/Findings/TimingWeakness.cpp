#include "Findings/TimingWeakness.h"

#include "Findings/Distributions.h"
#include "Findings/MultipleTests.h"
#include "Findings/Statistics.h"

#include <algorithm>
#include <cmath>
#include <numeric>
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
          y(valuesOf(observations, scale)), suspects(suspectsIn(observations.kinds)),
          involved(columnsOf(observations.kinds, suspects)) {
        countChanges();
    }

    TimingResult run() {
        while (static_cast<int>(selected.size()) < limits.mostFindings && takeNext()) {
        }
        TimingResult result;
        const auto columns = selectedColumns();
        if (!selected.empty()) {
            const EffectFit fit(table, columns, y);
            for (std::size_t i = 0; i < selected.size(); ++i)
                finish(fit, i, columns, result);
        }
        result.leads = leads;
        return result;
    }

private:
    void countChanges() {
        counts = Eigen::VectorXd::Zero(involved.cols());
        for (const auto& cell : table.cells)
            counts += cell.count * involved.row(cell.kind).transpose();
    }

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
            const EffectFit fit(table, columns, y);
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
        const Eigen::MatrixXd model = selectedColumns();
        const Eigen::VectorXd explained = model.rowwise().sum();
        Eigen::MatrixXd open = involved;
        for (Index k = 0; k < open.rows(); ++k)
            if (explained[k] > 0.0)
                open.row(k).setZero();
        const EffectFit fit(table, model, y);
        auto scan = fit.scan(open);
        Eigen::VectorXd openCounts = Eigen::VectorXd::Zero(open.cols());
        for (const auto& cell : table.cells)
            openCounts += cell.count * open.row(cell.kind).transpose();
        for (Index s = 0; s < open.cols(); ++s)
            if (openCounts[s] < limits.leastChanges)
                scan.t[s] = 0.0;
        Index best = 0;
        if (open.cols() == 0 || scan.t.maxCoeff(&best) <= 0.0)
            return false;
        Eigen::MatrixXd with(open.rows(), model.cols() + 1);
        with << model, open.col(best);
        Finding finding;
        finding.complaint = complaint;
        finding.suspect = suspects[at(best)];
        finding.t = rare(scan.t[best], fit.freedom()) ? heldDown(with, scan.t[best]) : scan.t[best];
        finding.p = adjustedP(scan, finding.t, fit.freedom());
        finding.rivals = rivalsOf(scan.t, best);
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
        const EffectFit fit(table, columns, y);
        const int last = static_cast<int>(columns.cols()) - 1;
        double shares = 0.0;
        for (const double share : fit.takeShares(last))
            shares += share * share;
        const double own = fit.standardError(last);
        const double spread = takeToTakeSpread(table, fit, last);
        return t * own / std::sqrt(own * own + spread * spread * shares);
    }

    std::vector<Suspect> rivalsOf(const Eigen::VectorXd& t, Index best) const {
        std::vector<Suspect> rivals;
        for (Index s = 0; s < t.size(); ++s) {
            const double lead = t[best] * t[best] - t[s] * t[s];
            if (s != best && t[s] > 0.0 && lead < 2.0 * std::log(limits.rivalOdds))
                rivals.push_back(suspects[at(s)]);
        }
        return rivals;
    }

    double otherLevel() const {
        const Eigen::VectorXd any = pick(selected).rowwise().sum();
        std::vector<double> others;
        for (const auto& observation : table.observations)
            if (selected.empty() || any[observation.kind] == 0.0)
                others.push_back(observation.y);
        return others.empty() ? 0.0 : quantile(std::move(others), 0.5);
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
        const auto interval = resampledInterval(table, fit, column, seed + i);
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
    std::vector<Suspect> suspects;
    Eigen::MatrixXd involved; // kinds x suspects
    Eigen::VectorXd counts;
    std::vector<std::size_t> selected;
    std::vector<Finding> found;
    std::vector<Finding> leads;
};

} // namespace

Scale likelierScale(const ObservationTable& whole) {
    const ObservationTable table = thinned(whole, takesForScale);
    const auto logLikelihood = [&](Scale scale) {
        const auto y = valuesOf(table, scale);
        const EffectFit fit(table, Eigen::MatrixXd(static_cast<Index>(table.kinds.size()), 0), y);
        double jacobian = 0.0;
        if (scale == Scale::logarithm)
            jacobian = -std::accumulate(y.begin(), y.end(), 0.0);
        return jacobian - static_cast<double>(y.size()) * std::log(std::max(1e-9, fit.sigma()));
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
