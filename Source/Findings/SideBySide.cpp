#include "Findings/SideBySide.h"

#include "Base/Index.h"
#include "Base/RobustStatistics.h"
#include "Findings/Bootstrap.h"
#include "Findings/ChangeComparison.h"
#include "Findings/Distributions.h"
#include "Findings/SideValues.h"
#include "Listening/Measures.h"

#include <cmath>
#include <optional>

namespace valveladder {

namespace {

constexpr int overallResamples = 500;
constexpr std::uint64_t overallSeed = 7;
constexpr int leastNotes = 5; ///< compared in both groups, to know how differences scatter

/// The mean as it grows.
void add(SideValue& value, double measured) {
    ++value.n;
    value.value += (measured - value.value) / value.n;
}

void addTake(const Performance& take, std::size_t group, SideBySide& sides) {
    const auto inside = [&](int index) { return index >= 0 && at(index) < sides.notes.size(); };
    for (const auto& note : take.notes)
        if (inside(note.index) && note.outcome == Outcome::right)
            ++sides.notes[at(note.index)].right[group];
    for (const auto measure : {NoteMeasure::deviation, NoteMeasure::intonation, NoteMeasure::changeover})
        forEachMeasured(take, measure, [&](int note, double value) {
            if (inside(note))
                add(sides.notes[at(note)].values[group][at(static_cast<int>(measure))], value);
        });
}

std::vector<double> compareNotes(SideBySide& sides, std::size_t group, std::size_t measure) {
    std::vector<double> differences;
    for (auto& note : sides.notes) {
        const auto& first = note.values[0][measure];
        const auto& other = note.values[group][measure];
        if (first.n == 0 || other.n == 0)
            continue;
        auto& difference = note.differences[group - 1][measure];
        difference.value = other.value - first.value;
        difference.measured = true;
        differences.push_back(difference.value);
    }
    return differences;
}

/// Each take's own level of a measure.
std::vector<double> levelsOf(const SideGroup& group, std::size_t measure) {
    std::vector<double> levels;
    for (const Performance* take : group.takes) {
        if (!take)
            continue;
        std::vector<double> values;
        forEachMeasured(*take, static_cast<NoteMeasure>(measure),
                        [&values](int, double value) { values.push_back(value); });
        if (!values.empty())
            levels.push_back(median(std::move(values)));
    }
    return levels;
}

/// Welch's test, two-sided; 1 where a side has fewer than two takes.
double levelsP(const std::vector<double>& a, const std::vector<double>& b) {
    if (a.size() < 2 || b.size() < 2)
        return 1.0;
    const auto errorOf = [&](const std::vector<double>& values) {
        double squares = 0.0;
        for (const double value : values)
            squares += (value - meanOf(values)) * (value - meanOf(values));
        const auto count = static_cast<double>(values.size());
        return squares / (count - 1.0) / count;
    };
    const double errors[] = {errorOf(a), errorOf(b)};
    const double sum = errors[0] + errors[1];
    if (sum <= 0.0)
        return 1.0;
    const double freedom = sum * sum /
                           (errors[0] * errors[0] / (static_cast<double>(a.size()) - 1.0) +
                            errors[1] * errors[1] / (static_cast<double>(b.size()) - 1.0));
    return studentTwoSidedP(freedom, (meanOf(b) - meanOf(a)) / std::sqrt(sum));
}

void judgeLevels(SideBySide& sides, const std::vector<SideGroup>& groups, std::size_t group) {
    const auto comparisons = static_cast<double>(groups.size()) - 1.0;
    auto& overall = sides.overall[group - 1];
    for (std::size_t m = 0; m < at(sideMeasures); ++m) {
        const auto differences = compareNotes(sides, group, m);
        if (static_cast<int>(differences.size()) < leastNotes)
            continue;
        overall.difference[m] = bcaInterval(differences, median, overallSeed + m, overallResamples);
        overall.beyondChance[m] =
            levelsP(levelsOf(groups[0], m), levelsOf(groups[group], m)) <= levelFalseShare / comparisons;
    }
}

void judgeChanges(const Score& score, SideBySide& sides, const std::vector<SideGroup>& groups,
                  std::size_t group) {
    constexpr NoteMeasure measures[] = {NoteMeasure::deviation, NoteMeasure::changeover};
    auto& overall = sides.overall[group - 1];
    const bool timed = overall.difference[at(static_cast<int>(NoteMeasure::changeover))].n > 0;
    const double alpha = changesFalseShare / (static_cast<double>(groups.size()) - 1.0) / (timed ? 2.0 : 1.0);
    for (const auto measure : measures)
        overall.changes[at(static_cast<int>(measure))] =
            compareChanges(score, groups[0], groups[group], measure, alpha, overallSeed);
}

} // namespace

const char* name(NoteMeasure measure) {
    constexpr const char* names[sideMeasures] = {"deviation", "changeover", "intonation"};
    return names[static_cast<int>(measure)];
}

const char* unit(NoteMeasure measure) {
    return measure == NoteMeasure::intonation ? "cents" : "ms";
}

SideBySide sideBySide(const Score& score, const std::vector<SideGroup>& groups) {
    SideBySide sides;
    if (groups.empty())
        return sides;
    sides.notes.resize(score.notes.size());
    for (std::size_t i = 0; i < sides.notes.size(); ++i) {
        sides.notes[i].note = static_cast<int>(i);
        sides.notes[i].values.resize(groups.size());
        sides.notes[i].differences.resize(groups.size() - 1);
        sides.notes[i].right.resize(groups.size());
    }
    sides.overall.resize(groups.size() - 1);
    for (std::size_t g = 0; g < groups.size(); ++g) {
        sides.labels.push_back(groups[g].label);
        sides.bpm.push_back(groups[g].bpm);
        for (const Performance* take : groups[g].takes)
            if (take)
                addTake(*take, g, sides);
    }
    for (std::size_t g = 1; g < groups.size(); ++g) {
        judgeLevels(sides, groups, g);
        judgeChanges(score, sides, groups, g);
    }
    return sides;
}

} // namespace valveladder
