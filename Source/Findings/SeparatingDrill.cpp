#include "Findings/SeparatingDrill.h"

#include "Findings/Identifiability.h"
#include "Valves/Fingering.h"

#include <algorithm>
#include <cmath>

namespace valveladder {

namespace {

using Eigen::Index;

/// Information assumed beforehand on each effect, so that a determinant exists before anything was played: a
/// tenth of an observation.
constexpr double priorInformation = 0.1;
/// A further cell must raise the log-determinant by this much to be worth its time.
constexpr double leastGain = 0.2;

std::vector<Combination> allowedFingerings(const Instrument& instrument, MidiNote note, double maxCents) {
    std::vector<Combination> allowed;
    const auto choices = fingerings(instrument, note);
    for (const auto& choice : choices)
        if (choice.side == choices.front().side && (allowed.empty() || std::abs(choice.cents) <= maxCents))
            allowed.push_back(choice.combination);
    return allowed;
}

std::vector<Suspect> effectsInQuestion(const std::vector<Suspect>& questions, int valves) {
    auto effects = fingerEffects(valves);
    for (const auto& question : questions)
        if (std::find(effects.begin(), effects.end(), question) == effects.end())
            effects.push_back(question);
    return effects;
}

/// Information of a take made of cells: sums that grow cell by cell.
struct TakeInformation {
    Eigen::MatrixXd squares;
    Eigen::VectorXd sum;
    double count = 0.0;

    [[nodiscard]] Eigen::MatrixXd centred() const {
        return count > 0.0 ? Eigen::MatrixXd(squares - sum * sum.transpose() / count) : squares;
    }
};

TakeInformation informationIn(const std::vector<Suspect>& effects,
                              const std::vector<ChangeEvidence>& changes) {
    const auto size = static_cast<Index>(effects.size());
    TakeInformation information{Eigen::MatrixXd::Zero(size, size), Eigen::VectorXd::Zero(size), 0.0};
    Eigen::VectorXd row(size);
    for (const auto& change : changes) {
        for (Index s = 0; s < size; ++s)
            row[s] = effects[static_cast<std::size_t>(s)].involves(change) ? 1.0 : 0.0;
        information.squares.noalias() += row * row.transpose();
        information.sum += row;
        information.count += 1.0;
    }
    return information;
}

TakeInformation together(TakeInformation a, const TakeInformation& b) {
    a.squares += b.squares;
    a.sum += b.sum;
    a.count += b.count;
    return a;
}

double logDeterminant(const Eigen::MatrixXd& information) {
    Eigen::MatrixXd matrix = information;
    matrix.diagonal().array() += priorInformation;
    return matrix.ldlt().vectorD().cwiseMax(1e-300).array().log().sum();
}

bool agrees(const std::map<MidiNote, Combination>& asked, const FingeredCell& cell) {
    for (std::size_t i = 0; i < cell.notes.size(); ++i) {
        const auto known = asked.find(cell.notes[i]);
        if (known != asked.end() && known->second != cell.combinations[i])
            return false;
    }
    return true;
}

double secondsOf(const FingeredCell& cell, const SeparatingLimits& limits) {
    const double noteSeconds = 60.0 / limits.bpm / 2.0; // eighths
    const double restSeconds = 2.0 * 60.0 / limits.bpm; // the default rest of two beats
    return noteSeconds * static_cast<double>(cell.notes.size()) * limits.repeats + restSeconds;
}

std::string wordsFor(const std::vector<FingeredCell>& cells, const Instrument& instrument) {
    std::string text = "Play ";
    for (std::size_t c = 0; c < cells.size(); ++c) {
        text += c == 0 ? "" : c + 1 == cells.size() ? " and " : ", ";
        for (std::size_t i = 0; i < cells[c].notes.size(); ++i)
            text += (i == 0 ? "" : "-") + pitchName(cells[c].notes[i]) + " (" +
                    instrument.combinationName(cells[c].combinations[i]) + ")";
    }
    return text;
}

} // namespace

SeparatingLimits usualLimits(const Instrument& instrument, double bpm) {
    constexpr int ladderSpan = 13;
    SeparatingLimits limits;
    limits.lowest = std::max(instrument.lowest, instrument.ladderFoot);
    limits.highest = std::min(instrument.highest, limits.lowest + ladderSpan);
    limits.bpm = bpm;
    return limits;
}

std::vector<FingeredCell> cellPool(const Instrument& instrument, const SeparatingLimits& limits) {
    std::vector<FingeredCell> pool;
    for (MidiNote low = limits.lowest; low <= limits.highest; ++low)
        for (MidiNote high = low + 1; high <= std::min(limits.highest, low + limits.widestSemitones); ++high)
            for (const auto first : allowedFingerings(instrument, low, limits.maxCents))
                for (const auto second : allowedFingerings(instrument, high, limits.maxCents))
                    if (first != second)
                        pool.push_back({{low, high}, {first, second}});
    return pool;
}

std::vector<ChangeEvidence> changesOf(const FingeredCell& cell, int repeats) {
    std::vector<ChangeEvidence> changes;
    const std::size_t notes = cell.notes.size() * static_cast<std::size_t>(repeats);
    for (std::size_t i = 1; i < notes; ++i) {
        ChangeEvidence change;
        change.change = {cell.combinations[(i - 1) % cell.notes.size()],
                         cell.combinations[i % cell.notes.size()]};
        change.usualFrom = change.change.from;
        change.usualTo = change.change.to;
        changes.push_back(change);
    }
    return changes;
}

Drill cellDrill(const std::vector<FingeredCell>& cells, const std::string& name, int repeats) {
    Drill drill;
    drill.name = name;
    drill.repeats = repeats;
    drill.segments = {defaultSegments().front()};
    CellPattern pattern;
    for (const auto& cell : cells) {
        if (!agrees(drill.fingering.byHand, cell))
            continue;
        pattern.cells.push_back(cell.notes);
        for (std::size_t i = 0; i < cell.notes.size(); ++i)
            drill.fingering.byHand[cell.notes[i]] = cell.combinations[i];
    }
    drill.pattern = pattern;
    return drill;
}

std::optional<SeparatingDrill> drillThatSeparates(std::span<const TakeEvidence> played,
                                                  const std::vector<Suspect>& questions,
                                                  const Instrument& instrument,
                                                  const SeparatingLimits& limits) {
    const auto effects = effectsInQuestion(questions, instrument.valves);
    const Eigen::MatrixXd before = informationOn(effects, played);
    const auto pool = cellPool(instrument, limits);
    std::vector<TakeInformation> each;
    for (const auto& cell : pool)
        each.push_back(informationIn(effects, changesOf(cell, limits.repeats)));

    SeparatingDrill chosen;
    std::map<MidiNote, Combination> asked;
    TakeInformation take = informationIn(effects, {});
    const double start = logDeterminant(before);
    double now = start;
    while (static_cast<int>(chosen.cells.size()) < limits.maxCells) {
        double best = now + leastGain;
        std::size_t choice = pool.size();
        for (std::size_t i = 0; i < pool.size(); ++i) {
            if (!agrees(asked, pool[i]) || chosen.seconds + secondsOf(pool[i], limits) > limits.maxSeconds)
                continue;
            const double with = logDeterminant(before + together(take, each[i]).centred());
            if (with > best) {
                best = with;
                choice = i;
            }
        }
        if (choice == pool.size())
            break;
        take = together(take, each[choice]);
        now = best;
        chosen.seconds += secondsOf(pool[choice], limits);
        chosen.cells.push_back(pool[choice]);
        for (std::size_t i = 0; i < pool[choice].notes.size(); ++i)
            asked[pool[choice].notes[i]] = pool[choice].combinations[i];
    }
    if (chosen.cells.empty())
        return std::nullopt;
    chosen.gain = now - start;
    chosen.drill = cellDrill(chosen.cells, "Cells that tell fingers apart", limits.repeats);
    chosen.words = wordsFor(chosen.cells, instrument);
    return chosen;
}

} // namespace valveladder
