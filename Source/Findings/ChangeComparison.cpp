#include "Findings/ChangeComparison.h"

#include "Base/Index.h"
#include "Base/RobustStatistics.h"
#include "Findings/Bootstrap.h"
#include "Findings/Distributions.h"
#include "Findings/MultipleTests.h"
#include "Findings/SideValues.h"
#include "Findings/TimingWeakness.h"

#include <algorithm>
#include <cmath>
#include <optional>

namespace valveladder {

namespace {

using Eigen::Index;

/// By note: what one take measured.
std::vector<std::optional<double>> valuesOf(const Score& score, const Performance& take,
                                            NoteMeasure measure) {
    std::vector<std::optional<double>> values(score.notes.size());
    forEachMeasured(take, measure, [&values](int note, double value) {
        if (note >= 0 && at(note) < values.size())
            values[at(note)] = value;
    });
    return values;
}

using TakeValues = std::vector<std::vector<std::optional<double>>>; ///< by take, by note

TakeValues valuesOf(const Score& score, const SideGroup& group, NoteMeasure measure) {
    TakeValues values;
    for (const Performance* take : group.takes)
        if (take)
            values.push_back(valuesOf(score, *take, measure));
    return values;
}

std::vector<std::vector<double>> byNote(const TakeValues& takes, std::size_t notes) {
    std::vector<std::vector<double>> values(notes);
    for (const auto& take : takes)
        for (std::size_t i = 0; i < notes; ++i)
            if (take[i])
                values[i].push_back(*take[i]);
    return values;
}

double middleOf(const std::vector<double>& before, const std::vector<double>& after) {
    std::vector<double> both = before;
    both.insert(both.end(), after.begin(), after.end());
    return median(std::move(both));
}

using ByNote = std::vector<std::vector<double>>;

/// Holds blunders: values further from their note's middle than holdLimit scales of all such distances count
/// as if they lay there (Huber's pseudo-values), so that one of a few takes is not the whole.
void holdBlunders(ByNote& before, ByNote& after) {
    constexpr std::size_t leastForBlunder = 3; // of two values neither is the blunder
    std::vector<double> sizes;
    for (std::size_t i = 0; i < before.size(); ++i)
        if (before[i].size() + after[i].size() >= leastForBlunder)
            for (const auto* values : {&before[i], &after[i]})
                for (const double value : *values)
                    sizes.push_back(std::abs(value - middleOf(before[i], after[i])));
    if (sizes.empty())
        return;
    const double limit = EffectFit::holdLimit * madToSigma * median(sizes);
    const auto inside = std::ranges::count_if(sizes, [&](double size) { return size <= limit; });
    const double share = std::max(0.5, static_cast<double>(inside) / static_cast<double>(sizes.size()));
    for (std::size_t i = 0; i < before.size(); ++i) {
        if (before[i].size() + after[i].size() < leastForBlunder)
            continue;
        const double middle = middleOf(before[i], after[i]);
        for (auto* values : {&before[i], &after[i]})
            for (double& value : *values)
                value = middle + huberPsi(value - middle, limit) / share;
    }
}

/// The changes of the score, unmeasured.
TakeEvidence plainChanges(const Score& score) {
    TakeEvidence evidence;
    for (std::size_t i = 1; i < score.notes.size(); ++i) {
        const auto& note = score.notes[i];
        if (note.span != score.notes[i - 1].span)
            continue;
        ChangeEvidence change;
        change.change = score.changeInto(static_cast<int>(i));
        change.usualFrom = change.change.from;
        change.usualTo = change.change.to;
        change.span = note.span;
        change.note = static_cast<std::int32_t>(i);
        change.ticks = static_cast<std::int32_t>(note.onset - score.spans[at(note.span)].start);
        evidence.changes.push_back(change);
    }
    return evidence;
}

/// Takes of both groups, each note's measure about the middle between the groups' means of that note, those
/// of the first group turned round: what a change's notes have in common is then half of what the groups
/// differ by. Circumstances stay out: each note is compared with itself.
struct Turned {
    std::vector<TakeEvidence> takes;
    double widening = 1.0; ///< of standard errors, for the means taken out
};

double wideningFor(double first, double other) {
    const double perTake = (1.0 / first + 1.0 / other) / 4.0;
    const double left = first * (1.0 - 1.0 / first + perTake) + other * (1.0 - 1.0 / other + perTake);
    const double all = first + other;
    return std::sqrt(perTake * all / (left / all));
}

Turned turned(const Score& score, const SideGroup& first, const SideGroup& other, NoteMeasure measure) {
    const TakeValues groups[] = {valuesOf(score, first, measure), valuesOf(score, other, measure)};
    Turned result;
    if (groups[0].empty() || groups[1].empty())
        return result;
    auto before = byNote(groups[0], score.notes.size());
    auto after = byNote(groups[1], score.notes.size());
    holdBlunders(before, after);
    const TakeEvidence plain = plainChanges(score);
    for (int g = 0; g < 2; ++g)
        for (const auto& values : groups[g]) {
            result.takes.push_back(plain);
            for (auto& change : result.takes.back().changes) {
                const std::size_t note = at(change.note);
                if (!values[note] || before[note].empty() || after[note].empty())
                    continue;
                const double about = *values[note] - (meanOf(before[note]) + meanOf(after[note])) / 2.0;
                (measure == NoteMeasure::changeover ? change.changeoverMs : change.deviationMs) =
                    static_cast<float>(g == 0 ? -about : about);
            }
        }
    result.widening =
        wideningFor(static_cast<double>(groups[0].size()), static_cast<double>(groups[1].size()));
    return result;
}

std::vector<Suspect> changesIn(const ObservationTable& table) {
    std::vector<Suspect> changes;
    for (const auto& kind : table.kinds) {
        const Suspect change = Suspect::ofChange(kind.change);
        if (kind.change.fingersMoved() > 0 && std::ranges::count(changes, change) == 0)
            changes.push_back(change);
    }
    return changes;
}

/// The search for changes that differ.
class Search {
public:
    Search(const Turned& both, NoteMeasure measure, double allowed, std::uint64_t randomSeed)
        : table(observe(both.takes, measure == NoteMeasure::changeover ? Complaint::slow : Complaint::late)),
          widening(both.widening), takes(static_cast<double>(both.takes.size())), alpha(allowed),
          seed(randomSeed), y(measuresOf(table)), model(plainModelOf(table, y)), changes(changesIn(table)),
          involved(columnsOf(table.kinds, changes)) {
        const auto perKind = kindCounts(table);
        counts = involved.transpose() *
                 Eigen::Map<const Eigen::VectorXd>(perKind.data(), static_cast<Index>(perKind.size())) /
                 takes;
        found.resize(changes.size());
    }

    std::vector<ComparedChange> run() {
        while (takeNext()) {
        }
        for (std::size_t i = 0; i < selected.size(); ++i)
            stateSelected(i);
        std::erase_if(found, [](const ComparedChange& one) { return one.difference.n == 0; });
        return found;
    }

private:
    Eigen::MatrixXd selectedColumns() const {
        Eigen::MatrixXd columns(involved.rows(), static_cast<Index>(selected.size()));
        for (std::size_t i = 0; i < selected.size(); ++i)
            columns.col(static_cast<Index>(i)) = involved.col(selected[i]);
        return columns;
    }

    /// Two-sided: a change may have become better or worse.
    double adjustedP(const EffectFit::Scan& scan, Index change, double freedom) const {
        const double t = std::abs(scan.t[change]) / widening;
        const double alone = t > 0.0 ? studentTwoSidedP(freedom, t) : 1.0;
        if (alone > alpha)
            return std::min(1.0, alone * static_cast<double>(scan.t.size()));
        return std::min(1.0, 2.0 * MaxT(scan.correlation, freedom, seed).p(t));
    }

    bool takeNext() {
        const EffectFit fit(model, selectedColumns(), y);
        Eigen::MatrixXd open = involved;
        for (const Index known : selected)
            open.col(known).setZero();
        for (Index c = 0; c < open.cols(); ++c)
            if (counts[c] < leastNotes)
                open.col(c).setZero();
        const auto scan = fit.scan(open);
        Index best = 0;
        if (open.cols() == 0 || scan.t.cwiseAbs().maxCoeff(&best) <= 0.0)
            return false;
        for (Index c = 0; c < open.cols(); ++c)
            if (std::ranges::count(selected, c) == 0)
                stateOpen(scan, c, freedomOf(fit));
        if (found[static_cast<std::size_t>(best)].p > alpha)
            return false;
        selected.push_back(best);
        return true;
    }

    /// The notes' means cost one take's worth.
    double freedomOf(const EffectFit& fit) const { return fit.freedom() * (takes - 1.0) / takes; }

    void state(ComparedChange& one, double half, double halfError, double freedom) const {
        const double reach = studentReach(freedom, intervalShare) * 2.0 * widening * halfError;
        one.difference.value = 2.0 * half;
        one.difference.low = one.difference.value - reach;
        one.difference.high = one.difference.value + reach;
    }

    void stateOpen(const EffectFit::Scan& scan, Index change, double freedom) {
        auto& one = found[static_cast<std::size_t>(change)];
        one.change = changes[static_cast<std::size_t>(change)].change;
        if (scan.t[change] == 0.0)
            return;
        one.p = adjustedP(scan, change, freedom);
        state(one, scan.effect[change], std::abs(scan.effect[change] / scan.t[change]), freedom);
        one.difference.n = static_cast<int>(std::lround(counts[change]));
    }

    void stateSelected(std::size_t i) {
        auto& one = found[static_cast<std::size_t>(selected[i])];
        const EffectFit fit(model, selectedColumns(), y);
        const int column = static_cast<int>(i);
        state(one, fit.effect(column), fit.standardError(column), freedomOf(fit));
        one.beyondChance = true;
    }

    static constexpr double leastNotes = 3.0;

    ObservationTable table;
    double widening;
    double takes;
    double alpha;
    std::uint64_t seed;
    std::vector<double> y;
    EffectModel model;
    std::vector<Suspect> changes;
    Eigen::MatrixXd involved; // kinds x changes
    Eigen::VectorXd counts;   // measured notes of each change, a take
    std::vector<Index> selected;
    std::vector<ComparedChange> found;
};

} // namespace

std::vector<ComparedChange> compareChanges(const Score& score, const SideGroup& first, const SideGroup& other,
                                           NoteMeasure measure, double alpha, std::uint64_t seed) {
    constexpr std::size_t leastMeasured = 24;
    const Turned both = turned(score, first, other, measure);
    std::size_t measured = 0;
    for (const auto& take : both.takes)
        for (const auto& change : take.changes)
            measured += change.changeoverMs || change.deviationMs ? 1U : 0U;
    if (measured < leastMeasured)
        return {};
    return Search(both, measure, alpha, seed).run();
}

} // namespace valveladder
