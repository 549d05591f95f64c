#include "Music/Marking.h"

#include "Base/Units.h"
#include "Tempo/TempoMap.h"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>
#include <limits>
#include <map>

namespace valveladder {

namespace {

constexpr double firstFingerMs = 20.0;
constexpr double nextFingerMs = 10.0;
constexpr double crossingFactor = 1.5;
constexpr double shortestSeconds = 1e-3;

using Fingerings = std::vector<Fingering>;

/// Seconds from each note's onset to the next one's, grace notes given their own time.
class Times {
public:
    Times(const Part& p, const PathCosts& c, double tempoFactor) : part(p), costs(c), factor(tempoFactor) {
        // Walks the tempo map once, so that long parts cost linear time.
        std::size_t tempo = 0;
        double seconds = 0.0;
        Tick at = 0;
        double bpm = defaultBpm;
        for (const PartNote& note : part.notes) {
            for (; tempo < part.tempos.size() && part.tempos[tempo].tick <= note.onset; ++tempo) {
                seconds += secondsOf(part.tempos[tempo].tick - at, bpm);
                at = part.tempos[tempo].tick;
                bpm = part.tempos[tempo].bpm;
            }
            seconds += secondsOf(note.onset - at, bpm);
            at = note.onset;
            onsets.push_back(seconds);
        }
    }

    /// From note `a` to note `b`, indices into the part.
    [[nodiscard]] double between(int a, int b) const {
        const double span = onsets[static_cast<std::size_t>(b)] - onsets[static_cast<std::size_t>(a)];
        return std::max(span, costs.graceSeconds * (span <= 0.0));
    }

private:
    [[nodiscard]] double secondsOf(Tick ticks, double bpm) const {
        return static_cast<double>(ticks) / part.ticksPerQuarter * secondsPerMinute / (bpm * factor);
    }

    const Part& part;
    const PathCosts& costs;
    double factor;
    std::vector<double> onsets;
};

/// Fingerings by written note, looked up once each.
class FingeringTable {
public:
    explicit FingeringTable(const Instrument& of) : instrument(of) {}
    const Fingerings& of(MidiNote written) {
        const auto found = table.find(written);
        return found != table.end() ? found->second
                                    : table.emplace(written, fingerings(instrument, written)).first->second;
    }

private:
    const Instrument& instrument;
    std::map<MidiNote, Fingerings> table;
};

/// One layer of the dynamic programme: the cheapest way to each fingering of a note.
struct Layer {
    int note = 0;
    const Fingerings* choices = nullptr;
    double seconds = 0.0;
    std::vector<double> best;
    std::vector<std::size_t> from;
};

void relax(Layer& layer, const Layer& before, const PathCosts& costs) {
    for (std::size_t to = 0; to < layer.choices->size(); ++to) {
        double best = std::numeric_limits<double>::infinity();
        for (std::size_t from = 0; from < before.choices->size(); ++from) {
            const double cost = before.best[from] + changeCost((*before.choices)[from], (*layer.choices)[to],
                                                               layer.seconds, costs);
            if (cost < best) {
                best = cost;
                layer.from[to] = from;
            }
        }
        layer.best[to] += best;
    }
}

std::vector<Layer> layersOf(const Part& part, const PathCosts& costs, double tempoFactor,
                            FingeringTable& table, std::vector<std::string>& remarks) {
    const Times times(part, costs, tempoFactor);
    std::vector<Layer> layers;
    for (int i = 0; i < static_cast<int>(part.notes.size()); ++i) {
        const PartNote& note = part.notes[static_cast<std::size_t>(i)];
        Layer layer{i, &table.of(note.written), 0.0, {}, {}};
        if (layer.choices->empty()) {
            remarks.push_back(
                fmt::format("bar {}: the instrument has no fingering for {}",
                            part.bars.empty() ? "?" : part.bars[static_cast<std::size_t>(note.bar)].number,
                            writtenName(note)));
            continue;
        }
        for (std::size_t rank = 0; rank < layer.choices->size(); ++rank)
            layer.best.push_back(fingeringCost((*layer.choices)[rank], static_cast<int>(rank), costs));
        layer.from.resize(layer.choices->size());
        if (!layers.empty()) {
            layer.seconds = times.between(layers.back().note, i);
            relax(layer, layers.back(), costs);
        }
        layers.push_back(std::move(layer));
    }
    return layers;
}

} // namespace

double msFromFingersMoved(const Change& change) {
    const int moved = change.fingersMoved();
    if (moved == 0)
        return 0.0;
    const bool crossing = change.pressed().count() > 0 && change.released().count() > 0;
    return (firstFingerMs + nextFingerMs * (moved - 1)) * (crossing ? crossingFactor : 1.0);
}

double fingeringCost(const Fingering& fingering, int rank, const PathCosts& costs) {
    return costs.perRank * rank + costs.perCent * std::max(0.0, std::abs(fingering.cents) - costs.freeCents);
}

double changeCost(const Fingering& from, const Fingering& to, double seconds, const PathCosts& costs) {
    const double ms = costs.changeMs({from.combination, to.combination});
    return ms / msPerSecond / std::max(seconds, shortestSeconds) +
           (from.side != to.side ? costs.sideChange : 0.0);
}

Marking markPart(const Part& part, const Instrument& instrument, const PathCosts& costs, double tempoFactor) {
    Marking marking;
    FingeringTable table(instrument);
    const std::vector<Layer> layers = layersOf(part, costs, tempoFactor, table, marking.remarks);
    if (layers.empty())
        return marking;
    const std::vector<double>& last = layers.back().best;
    auto choice = static_cast<std::size_t>(std::min_element(last.begin(), last.end()) - last.begin());
    marking.cost = last[choice];
    marking.notes.resize(layers.size());
    for (std::size_t i = layers.size(); i-- > 0;) {
        const Fingering& fingering = (*layers[i].choices)[choice];
        marking.notes[i] = {layers[i].note,           fingering,
                            static_cast<int>(choice), {fingering.combination, fingering.combination},
                            layers[i].seconds,        0.0};
        if (i > 0) {
            choice = layers[i].from[choice];
            const Fingering& before = (*layers[i - 1].choices)[choice];
            marking.notes[i].change.from = before.combination;
            marking.notes[i].cost = changeCost(before, fingering, layers[i].seconds, costs);
        }
    }
    return marking;
}

} // namespace valveladder
