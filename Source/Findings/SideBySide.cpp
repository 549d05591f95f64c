#include "Findings/SideBySide.h"

#include "Findings/Bootstrap.h"
#include "Findings/Distributions.h"
#include "Findings/MultipleTests.h"
#include "Findings/Statistics.h"
#include "Listening/Measures.h"

#include <cmath>
#include <optional>

namespace valveladder {

namespace {

constexpr int overallResamples = 500;
constexpr std::uint64_t overallSeed = 7;
constexpr int leastNotes = 5; ///< compared in both groups, to know how differences scatter

std::size_t at(int index) {
    return static_cast<std::size_t>(index);
}

void add(SideValue& value, const std::optional<double>& measured) {
    if (!measured || !std::isfinite(*measured))
        return;
    ++value.n;
    value.value += (*measured - value.value) / value.n;
}

void addTake(const Performance& take, std::size_t group, SideBySide& sides) {
    const auto inside = [&](int index) { return index >= 0 && at(index) < sides.notes.size(); };
    for (const auto& note : take.notes) {
        if (!inside(note.index) || note.outcome != Outcome::right)
            continue;
        auto& side = sides.notes[at(note.index)];
        ++side.right[group];
        add(side.values[group][at(static_cast<int>(SideMeasure::deviation))], note.deviationMs);
        add(side.values[group][at(static_cast<int>(SideMeasure::intonation))], note.cents);
    }
    for (const auto& change : take.changes)
        if (inside(change.toIndex))
            add(sides.notes[at(change.toIndex)].values[group][at(static_cast<int>(SideMeasure::changeover))],
                change.changeoverMs);
}

struct Compared {
    std::vector<SideDifference*> notes;
    std::vector<double> differences;
};

Compared compare(SideBySide& sides, std::size_t group, std::size_t measure) {
    Compared compared;
    for (auto& note : sides.notes) {
        const auto& first = note.values[0][measure];
        const auto& other = note.values[group][measure];
        if (first.n == 0 || other.n == 0)
            continue;
        auto& difference = note.differences[group - 1][measure];
        difference.value = other.value - first.value;
        difference.measured = true;
        compared.notes.push_back(&difference);
        compared.differences.push_back(difference.value);
    }
    return compared;
}

void judge(SideBySide& sides, std::size_t group, std::size_t measure) {
    const auto compared = compare(sides, group, measure);
    if (static_cast<int>(compared.notes.size()) < leastNotes)
        return;
    auto& overall = sides.overall[group - 1];
    const auto middle = [](const std::vector<double>& values) { return quantile(values, 0.5); };
    overall.difference[measure] =
        bcaInterval(compared.differences, middle, overallSeed + measure, overallResamples);
    overall.beyondChance[measure] =
        overall.difference[measure].low > 0.0 || overall.difference[measure].high < 0.0;
    const double centre = overall.difference[measure].value;
    const double scale = scaledMad(compared.differences);
    if (scale <= 0.0)
        return;
    std::vector<double> chances;
    const auto freedom = static_cast<double>(compared.notes.size()) - 1.0;
    for (const double difference : compared.differences)
        chances.push_back(studentTwoSidedP(freedom, (difference - centre) / scale));
    const auto adjusted = benjaminiHochberg(chances);
    for (std::size_t i = 0; i < adjusted.size(); ++i) {
        compared.notes[i]->p = adjusted[i];
        compared.notes[i]->beyondChance = adjusted[i] <= sideFalseShare;
    }
}

} // namespace

const char* name(SideMeasure measure) {
    constexpr const char* names[sideMeasures] = {"deviation", "changeover", "intonation"};
    return names[static_cast<int>(measure)];
}

const char* unit(SideMeasure measure) {
    return measure == SideMeasure::intonation ? "cents" : "ms";
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
    for (std::size_t g = 1; g < groups.size(); ++g)
        for (std::size_t m = 0; m < at(sideMeasures); ++m)
            judge(sides, g, m);
    return sides;
}

} // namespace valveladder
