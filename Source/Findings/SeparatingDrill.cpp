#include "Findings/SeparatingDrill.h"

#include "Findings/Identifiability.h"
#include "Score/Score.h"
#include "Valves/Fingering.h"

#include <algorithm>
#include <cmath>
#include <limits>

namespace valveladder {

namespace {

using Eigen::Index;

/// Information assumed beforehand on each effect, so that a determinant exists before anything was played: a
/// tenth of an observation.
constexpr double priorInformation = 0.1;
/// A further cell must raise the log-determinant by this much to be worth its time.
constexpr double leastGain = 0.2;

constexpr const char* drillName = "Cells that tell fingers apart";

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

/// Independent directions in the information.
Index rankOf(const Eigen::MatrixXd& information) {
    Eigen::FullPivLU<Eigen::MatrixXd> elimination(information);
    constexpr double zeroPivot = 1e-9; // of the largest; counts are whole numbers
    elimination.setThreshold(zeroPivot);
    return elimination.rank();
}

/// Of one take of these cells; no end of it where they cannot be laid out.
double takeSeconds(const std::vector<FingeredCell>& cells, const Instrument& instrument,
                   const SeparatingLimits& limits) {
    const auto score = buildScore(cellDrill(cells, drillName, limits.repeats), instrument, limits.bpm);
    return score ? secondsOf(score.value().length, limits.bpm) : std::numeric_limits<double>::infinity();
}

} // namespace

SeparatingLimits usualLimits(const Instrument& instrument, double bpm) {
    constexpr int ladderSpan = 13; // semitones; our choice, no source
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

DrillCell cellOf(const FingeredCell& cell) {
    return DrillCell(cell.notes, {cell.combinations.begin(), cell.combinations.end()});
}

bool isStepwise(const FingeredCell& cell, const Instrument& instrument) {
    constexpr int majorThird = 4;
    std::optional<int> partial;
    for (std::size_t i = 0; i < cell.notes.size(); ++i) {
        const auto fingering = fingeringOf(instrument, cell.notes[i], cell.combinations[i]);
        if (!fingering || (partial && *partial != fingering->partial))
            return false;
        partial = fingering->partial;
        if (i > 0 && std::abs(cell.notes[i] - cell.notes[i - 1]) > majorThird)
            return false;
    }
    return true;
}

Drill cellDrill(const std::vector<FingeredCell>& cells, const std::string& name, int repeats) {
    Drill drill;
    drill.name = name;
    drill.repeats = repeats;
    drill.segments = {defaultSegments().front()};
    CellPattern pattern;
    for (const auto& cell : cells)
        pattern.cells.push_back(cellOf(cell));
    drill.pattern = pattern;
    return drill;
}

namespace {

/// Chooses cells one by one, each the one that tells most beside what was played and chosen before.
class CellChoice {
public:
    CellChoice(std::span<const TakeEvidence> played, const std::vector<Suspect>& questions,
               const Instrument& onInstrument, const SeparatingLimits& limit)
        : instrument(onInstrument), limits(limit), effects(effectsInQuestion(questions, onInstrument.valves)),
          before(informationOn(effects, played)), pool(cellPool(onInstrument, limit)),
          take(informationIn(effects, {})), start(logDeterminant(before)), now(start) {
        TakeInformation everything = take;
        for (const auto& cell : pool) {
            each.push_back(informationIn(effects, changesOf(cell, limits.repeats)));
            stepwise.push_back(isStepwise(cell, onInstrument));
            everything = together(everything, each.back());
        }
        mostRank = rankOf(before + everything.centred());
        open.assign(pool.size(), true);
    }

    SeparatingDrill choose() {
        while (addBest(true)) {
        }
        while (rankOf(before + take.centred()) < mostRank && addBest(false)) {
        }
        chosen.gain = now - start;
        return std::move(chosen);
    }

private:
    bool addBest(bool stepwiseOnly) {
        double best = now + leastGain;
        std::size_t choice = pool.size();
        if (pool.empty() || static_cast<int>(chosen.cells.size()) >= limits.maxCells)
            return false;
        // Every cell of the pool holds two notes, so that it does not matter for the time which one is added.
        std::vector<FingeredCell> longer = chosen.cells;
        longer.push_back(pool.front());
        const double seconds = takeSeconds(longer, instrument, limits);
        if (seconds > limits.maxSeconds)
            return false;
        for (std::size_t i = 0; i < pool.size(); ++i) {
            if (!open[i] || (stepwiseOnly && !stepwise[i]))
                continue;
            const double with = logDeterminant(before + together(take, each[i]).centred());
            if (with > best) {
                best = with;
                choice = i;
            }
        }
        if (choice == pool.size())
            return false;
        open[choice] = false;
        take = together(take, each[choice]);
        now = best;
        chosen.seconds = seconds;
        chosen.cells.push_back(pool[choice]);
        return true;
    }

    const Instrument& instrument;
    const SeparatingLimits& limits;
    std::vector<Suspect> effects;
    Eigen::MatrixXd before;
    std::vector<FingeredCell> pool;
    std::vector<TakeInformation> each;
    std::vector<bool> stepwise;
    std::vector<bool> open; ///< not chosen yet
    TakeInformation take;
    Index mostRank = 0;
    double start;
    double now;
    SeparatingDrill chosen;
};

} // namespace

std::optional<SeparatingDrill> drillThatSeparates(std::span<const TakeEvidence> played,
                                                  const std::vector<Suspect>& questions,
                                                  const Instrument& instrument,
                                                  const SeparatingLimits& limits) {
    SeparatingDrill chosen = CellChoice(played, questions, instrument, limits).choose();
    if (chosen.cells.empty())
        return std::nullopt;
    chosen.drill = cellDrill(chosen.cells, drillName, limits.repeats);
    return chosen;
}

} // namespace valveladder
