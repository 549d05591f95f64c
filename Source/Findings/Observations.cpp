#include "Findings/Observations.h"

#include <algorithm>
#include <unordered_map>

namespace valveladder {

namespace {

std::uint64_t keyOf(const ChangeEvidence& evidence) {
    const auto byte = [](std::int8_t value) { return std::uint64_t{static_cast<std::uint8_t>(value)}; };
    std::uint64_t key = evidence.change.from.bits();
    key = key << 4 | evidence.change.to.bits();
    key = key << 4 | evidence.usualFrom.bits();
    key = key << 4 | evidence.usualTo.bits();
    key = key << 8 | byte(evidence.interval);
    key = key << 8 | byte(evidence.partialJump);
    key = key << 2 | static_cast<std::uint64_t>(evidence.touch);
    return key << 2 | static_cast<std::uint64_t>(evidence.place);
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
            specimens.back().error = false;
        }
        return place->second;
    }

    static constexpr std::size_t mostRemembered = 65536;

    std::vector<ChangeEvidence>& specimens;
    std::vector<std::pair<std::uint64_t, int>> remembered; ///< by note: key, number
    std::unordered_map<std::uint64_t, int> numbers;
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

/// Turns the take's kinds into cells; `slots` maps kinds to cells and is all -1 before and after.
void addCells(ObservationTable& table, TakeRange& range, std::vector<int>& slots) {
    slots.resize(table.kinds.size(), -1);
    range.firstCell = static_cast<int>(table.cells.size());
    const auto first = table.observations.begin() + range.firstObservation;
    for (auto observation = first; observation != table.observations.end(); ++observation) {
        int& slot = slots[static_cast<std::size_t>(observation->kind)];
        if (slot < 0) {
            slot = static_cast<int>(table.cells.size());
            table.cells.push_back({observation->kind, 0.0});
        }
        observation->cell = slot;
        table.cells[static_cast<std::size_t>(slot)].count += 1.0;
    }
    range.cellCount = static_cast<int>(table.cells.size()) - range.firstCell;
    for (auto observation = first; observation != table.observations.end(); ++observation)
        slots[static_cast<std::size_t>(observation->kind)] = -1;
}

} // namespace

ObservationTable observe(std::span<const TakeEvidence> takes, Complaint complaint) {
    ObservationTable table;
    Kinds kinds(table.kinds);
    std::vector<int> slots;
    std::int64_t newest = 0;
    std::size_t changes = 0;
    for (const auto& take : takes) {
        newest = std::max(newest, take.facts.startedUtcMs);
        changes += take.changes.size();
    }
    table.observations.reserve(changes);
    for (std::size_t t = 0; t < takes.size(); ++t) {
        TakeRange range;
        range.evidence = static_cast<int>(t);
        range.weight = ageWeight(takes[t].facts.startedUtcMs, newest);
        range.firstObservation = static_cast<int>(table.observations.size());
        int lastSpan = -1;
        const ChangeEvidence* before = nullptr;
        for (const auto& change : takes[t].changes) {
            const auto y = measureOf(change, complaint);
            const bool inBurst = before && before->error && follows(*before, change);
            before = &change;
            if (!y || (complaint == Complaint::wrong && inBurst))
                continue;
            if (change.span != lastSpan)
                ++table.spans;
            lastSpan = change.span;
            table.observations.push_back(
                {static_cast<int>(table.takes.size()), kinds.numberOf(change), 0, table.spans - 1, *y});
        }
        range.observationCount = static_cast<int>(table.observations.size()) - range.firstObservation;
        if (range.observationCount == 0)
            continue;
        addCells(table, range, slots);
        table.takes.push_back(range);
    }
    if (complaint == Complaint::late || complaint == Complaint::uneven)
        table.linesRemoved = 2.0 * table.spans; // a line is removed from the deviations of each segment
    return table;
}

ObservationTable thinned(const ObservationTable& table, int mostTakes) {
    const std::size_t step =
        (table.takes.size() + static_cast<std::size_t>(mostTakes) - 1) / static_cast<std::size_t>(mostTakes);
    if (step <= 1)
        return table;
    ObservationTable thin;
    thin.kinds = table.kinds;
    for (std::size_t t = 0; t < table.takes.size(); t += step) {
        TakeRange range = table.takes[t];
        const auto cells = table.cells.begin() + range.firstCell;
        const auto observations = table.observations.begin() + range.firstObservation;
        const int moved = static_cast<int>(thin.cells.size()) - range.firstCell;
        range.firstCell = static_cast<int>(thin.cells.size());
        range.firstObservation = static_cast<int>(thin.observations.size());
        thin.cells.insert(thin.cells.end(), cells, cells + range.cellCount);
        for (auto o = observations; o != observations + range.observationCount; ++o) {
            if (thin.observations.empty() || thin.observations.back().span != o->span)
                ++thin.spans;
            thin.observations.push_back(*o);
            thin.observations.back().take = static_cast<int>(thin.takes.size());
            thin.observations.back().cell += moved;
        }
        thin.takes.push_back(range);
    }
    if (table.spans > 0)
        thin.linesRemoved = table.linesRemoved * thin.spans / table.spans;
    return thin;
}

} // namespace valveladder
