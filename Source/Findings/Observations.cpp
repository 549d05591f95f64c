#include "Findings/Observations.h"

#include "Base/Index.h"

#include <algorithm>
#include <functional>
#include <optional>
#include <unordered_map>

namespace valveladder {

namespace {

/// Kinds and layouts of the last take are found again by note up to this one; beyond, places are shared.
constexpr std::size_t mostRemembered = 65536;

std::uint64_t keyOf(const ChangeEvidence& evidence) {
    std::uint64_t key = evidence.change.from.bits();
    const auto add = [&key](int bits, std::uint64_t value) { key = key << bits | value; };
    const auto byte = [](std::int8_t value) { return std::uint64_t{static_cast<std::uint8_t>(value)}; };
    add(4, evidence.change.to.bits());
    add(4, evidence.usualFrom.bits());
    add(4, evidence.usualTo.bits());
    add(8, byte(evidence.interval));
    add(8, byte(evidence.partialJump));
    add(2, static_cast<std::uint64_t>(evidence.touch));
    add(2, static_cast<std::uint64_t>(evidence.place));
    add(7, evidence.written);
    add(2, evidence.sinceAccent == noAccentNear ? 3U : evidence.sinceAccent);
    add(1, evidence.offBeat ? 1U : 0U);
    add(1, evidence.first ? 1U : 0U);
    return key;
}

/// Numbers the kinds of change met.
class Kinds {
public:
    explicit Kinds(std::vector<ChangeEvidence>& found) : specimens(found) {}

    int numberOf(const ChangeEvidence& evidence) {
        // Takes of one drill ask for the same at the same note: most often the last take's kind.
        const auto note = static_cast<std::size_t>(std::max(0, evidence.note)) % mostRemembered;
        if (note >= remembered.size())
            remembered.resize(note + 1, {~std::uint64_t{0}, -1});
        const std::uint64_t key = keyOf(evidence);
        if (remembered[note].first != key)
            remembered[note] = {key, lookUp(key, evidence)};
        return remembered[note].second;
    }

private:
    int lookUp(std::uint64_t key, const ChangeEvidence& evidence) {
        const auto [place, isNew] = numbers.try_emplace(key, static_cast<int>(specimens.size()));
        if (isNew) {
            specimens.push_back(evidence);
            specimens.back().changeoverMs.reset();
            specimens.back().deviationMs.reset();
            specimens.back().orderFrom = OrderFrom::nothing;
            specimens.back().lateFingers = {};
            specimens.back().lateByMs = 0.0F;
            specimens.back().error = false;
        }
        return place->second;
    }

    std::vector<ChangeEvidence>& specimens;
    std::vector<std::pair<std::uint64_t, int>> remembered; ///< by note: key, number
    std::unordered_map<std::uint64_t, int> numbers;
};

/// Numbers the layouts met.
class Layouts {
public:
    explicit Layouts(std::vector<Layout>& found) : layouts(found) {}

    int numberOf(const Layout& layout) {
        std::size_t hash = 0;
        for (int i = 0; i < layout.size(); ++i)
            for (const int value : {layout.kinds[at(i)], layout.ticks[at(i)], layout.notes[at(i)]})
                hash = hash * 1099511628211U + std::hash<int>{}(value) + 1U;
        auto& same = byHash[hash];
        for (const int number : same)
            if (layouts[at(number)] == layout)
                return number;
        same.push_back(static_cast<int>(layouts.size()));
        layouts.push_back(layout);
        return same.back();
    }

private:
    std::vector<Layout>& layouts;
    std::unordered_map<std::size_t, std::vector<int>> byHash;
};

std::optional<double> measureOf(const ChangeEvidence& evidence, Complaint complaint) {
    switch (complaint) {
    case Complaint::slow:
        return evidence.changeoverMs;
    case Complaint::late:
    case Complaint::uneven:
        return evidence.deviationMs;
    case Complaint::wrong:
        break;
    }
    return evidence.error ? 1.0 : 0.0;
}

/// Errors come in bursts: only the first of one counts, and the changes lost with it are no trials.
bool follows(const ChangeEvidence& before, const ChangeEvidence& change) {
    return change.span == before.span && change.note == before.note + 1;
}

bool isTrial(std::span<const ChangeEvidence> changes, std::size_t index) {
    return index == 0 || !changes[index - 1].error || !follows(changes[index - 1], changes[index]);
}

/// Fills a table take by take, block by block. `Measure`: from changes and an index to an optional double.
template <typename Measure>
class Filling {
public:
    Filling(Baseline baseline, const Measure& wanted) : measure(wanted) { table.baseline = baseline; }

    void expect(std::size_t changes) { table.observations.reserve(changes); }

    void add(const TakeEvidence& take, int number, double weight) {
        TakeRange range;
        range.evidence = number;
        range.weight = weight;
        range.firstBlock = static_cast<int>(table.blocks.size());
        range.firstObservation = static_cast<int>(table.observations.size());
        const std::span<const ChangeEvidence> changes(take.changes);
        for (std::size_t begin = 0; begin < changes.size();) {
            std::size_t end = begin + 1;
            while (end < changes.size() && changes[end].span == changes[begin].span)
                ++end;
            addSpan(changes, begin, end);
            begin = end;
        }
        range.blockCount = static_cast<int>(table.blocks.size()) - range.firstBlock;
        range.observationCount = static_cast<int>(table.observations.size()) - range.firstObservation;
        if (range.observationCount > 0)
            table.takes.push_back(range);
    }

    ObservationTable take() { return std::move(table); }

private:
    void addSpan(std::span<const ChangeEvidence> changes, std::size_t begin, std::size_t end) {
        const std::size_t before = table.observations.size();
        const std::size_t parts = (end - begin + mostBlockChanges - 1) / mostBlockChanges;
        for (std::size_t part = 0; part < parts; ++part)
            addBlock(changes, begin + (end - begin) * part / parts,
                     begin + (end - begin) * (part + 1) / parts);
        if (table.observations.size() > before)
            ++table.spans;
    }

    void addBlock(std::span<const ChangeEvidence> changes, std::size_t begin, std::size_t end) {
        Block block;
        block.take = static_cast<int>(table.takes.size());
        block.firstObservation = static_cast<int>(table.observations.size());
        layout.kinds.clear();
        layout.ticks.clear();
        layout.notes.clear();
        for (std::size_t i = begin; i < end; ++i) {
            const int kind = kinds.numberOf(changes[i]);
            layout.kinds.push_back(kind);
            layout.ticks.push_back(changes[i].ticks);
            layout.notes.push_back(changes[i].note - changes[begin].note);
            if (const auto y = measure(changes, i))
                table.observations.push_back({block.take, kind, static_cast<int>(table.blocks.size()),
                                              static_cast<int>(i - begin), table.spans, *y});
        }
        block.observationCount = static_cast<int>(table.observations.size()) - block.firstObservation;
        const int least = table.baseline == Baseline::segmentLine ? leastForLine : 1;
        if (block.observationCount < least) {
            table.observations.resize(static_cast<std::size_t>(block.firstObservation));
            return;
        }
        // Takes of one drill ask for the same at the same place: most often the last take's layout.
        const auto place = static_cast<std::size_t>(std::max(0, changes[begin].note)) % mostRemembered;
        if (place >= remembered.size())
            remembered.resize(place + 1, -1);
        int& known = remembered[place];
        if (known < 0 || !(table.layouts[static_cast<std::size_t>(known)] == layout))
            known = layouts.numberOf(layout);
        block.layout = known;
        table.blocks.push_back(block);
    }

    const Measure& measure;
    ObservationTable table;
    Kinds kinds{table.kinds};
    Layouts layouts{table.layouts};
    Layout layout;               ///< kept for its memory
    std::vector<int> remembered; ///< layouts, by the note they begin with
};

template <typename Measure>
ObservationTable fill(std::span<const TakeEvidence> takes, Baseline baseline, const Measure& measure) {
    std::int64_t newest = 0;
    for (const auto& take : takes)
        newest = std::max(newest, take.facts.startedUtcMs);
    Filling<Measure> filling(baseline, measure);
    filling.expect(changeCount(takes));
    for (std::size_t t = 0; t < takes.size(); ++t)
        filling.add(takes[t], static_cast<int>(t), ageWeight(takes[t].facts.startedUtcMs, newest));
    return filling.take();
}

} // namespace

ObservationTable observe(std::span<const TakeEvidence> takes, Complaint complaint) {
    const bool trialsOnly = complaint == Complaint::wrong;
    const auto baseline = complaint == Complaint::late || complaint == Complaint::uneven
                              ? Baseline::segmentLine
                              : Baseline::takeLevel;
    return fill(takes, baseline, [&](std::span<const ChangeEvidence> changes, std::size_t i) {
        return trialsOnly && !isTrial(changes, i) ? std::nullopt : measureOf(changes[i], complaint);
    });
}

ObservationTable observeAsked(std::span<const TakeEvidence> takes, Baseline baseline) {
    return fill(takes, baseline,
                [](std::span<const ChangeEvidence>, std::size_t) { return std::optional(0.0); });
}

ObservationTable thinned(const ObservationTable& table, int mostTakes) {
    const std::size_t step =
        (table.takes.size() + static_cast<std::size_t>(mostTakes) - 1) / static_cast<std::size_t>(mostTakes);
    if (step <= 1)
        return table;
    ObservationTable thin;
    thin.baseline = table.baseline;
    thin.kinds = table.kinds;
    thin.layouts = table.layouts;
    for (std::size_t t = 0; t < table.takes.size(); t += step) {
        TakeRange range = table.takes[t];
        const auto blocks = table.blocks.begin() + range.firstBlock;
        const auto observations = table.observations.begin() + range.firstObservation;
        const int movedBlocks = static_cast<int>(thin.blocks.size()) - range.firstBlock;
        const int moved = static_cast<int>(thin.observations.size()) - range.firstObservation;
        range.firstBlock += movedBlocks;
        range.firstObservation += moved;
        for (auto block = blocks; block != blocks + range.blockCount; ++block) {
            thin.blocks.push_back(*block);
            thin.blocks.back().take = static_cast<int>(thin.takes.size());
            thin.blocks.back().firstObservation += moved;
        }
        int lastSpan = -1;
        for (auto o = observations; o != observations + range.observationCount; ++o) {
            thin.spans += o->span != lastSpan ? 1 : 0;
            lastSpan = o->span;
            thin.observations.push_back(*o);
            thin.observations.back().take = static_cast<int>(thin.takes.size());
            thin.observations.back().block += movedBlocks;
            thin.observations.back().span = thin.spans - 1;
        }
        thin.takes.push_back(range);
    }
    return thin;
}

std::vector<double> measuresOf(const ObservationTable& table) {
    std::vector<double> y;
    y.reserve(table.observations.size());
    for (const auto& observation : table.observations)
        y.push_back(observation.y);
    return y;
}

std::vector<double> kindCounts(const ObservationTable& table) {
    std::vector<double> counts(table.kinds.size());
    for (const auto& observation : table.observations)
        counts[static_cast<std::size_t>(observation.kind)] += 1.0;
    return counts;
}

} // namespace valveladder
