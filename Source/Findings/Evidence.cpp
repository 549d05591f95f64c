#include "Findings/Evidence.h"

#include "Base/Units.h"
#include "Findings/FingersApart.h"
#include "Valves/Fingering.h"

#include <algorithm>
#include <cmath>
#include <set>

namespace valveladder {

namespace {

/// Fingering facts of the written notes met, looked up once each.
class NoteFacts {
public:
    explicit NoteFacts(const Instrument& played) : instrument(played) {}

    Combination usual(const ScoreNote& note) {
        const auto& choices = of(note.written);
        return choices.empty() ? note.combination : choices.front().combination;
    }
    int partial(const ScoreNote& note) {
        for (const auto& choice : of(note.written))
            if (choice.combination == note.combination)
                return choice.partial;
        return 0;
    }

private:
    const std::vector<Fingering>& of(MidiNote written) {
        const auto [found, isNew] = known.try_emplace(written);
        if (isNew)
            found->second = fingerings(instrument, written);
        return found->second;
    }

    const Instrument& instrument;
    std::map<MidiNote, std::vector<Fingering>> known;
};

struct Lookup {
    std::vector<const NoteResult*> notes;     // by score index, null when outside the take
    std::vector<const ChangeResult*> changes; // by the index of the note reached
};

Lookup lookUp(const Score& score, const Performance& performance) {
    Lookup found{std::vector<const NoteResult*>(score.notes.size()),
                 std::vector<const ChangeResult*>(score.notes.size())};
    const auto inside = [&](int index) {
        return index >= 0 && static_cast<std::size_t>(index) < score.notes.size();
    };
    for (const auto& note : performance.notes)
        if (inside(note.index))
            found.notes[static_cast<std::size_t>(note.index)] = &note;
    for (const auto& change : performance.changes)
        if (inside(change.toIndex))
            found.changes[static_cast<std::size_t>(change.toIndex)] = &change;
    return found;
}

bool isError(const NoteResult& note) {
    return note.outcome != Outcome::right || note.split || note.valvesWrong;
}

std::optional<float> usable(const std::optional<double>& value) {
    if (!value || !std::isfinite(*value))
        return std::nullopt;
    return static_cast<float>(*value);
}

RhythmPlace placeOf(const ScoreNote& note) {
    return note.isLong ? RhythmPlace::longNote : note.isShort ? RhythmPlace::shortNote : RhythmPlace::even;
}

std::uint8_t sinceAccent(const Score& score, std::size_t index) {
    for (std::size_t back = 0; back <= accentReach && back <= index; ++back) {
        const ScoreNote& note = score.notes[index - back];
        if (note.span != score.notes[index].span)
            break;
        if (note.accent)
            return static_cast<std::uint8_t>(back);
    }
    return noAccentNear;
}

/// The order of the fingers, of a change whose notes were right.
void addOrder(ChangeEvidence& evidence, const ChangeResult& measured) {
    // Sensors tell an order of every change that they tell: without one it was heard before they did.
    if (evidence.change.fingersMoved() < 2 || !measured.changeoverMs ||
        (measured.fromSensors && !measured.lateByMs))
        return;
    const unsigned moved = evidence.change.pressed().bits() | evidence.change.released().bits();
    const unsigned late = measured.lateFingers.bits() & moved;
    const auto by = usable(measured.lateByMs);
    if (by && *by >= togetherMs) {
        if (late == 0 || late == moved)
            return;
        evidence.lateFingers = Combination(static_cast<std::uint8_t>(late));
        evidence.lateByMs = *by;
    }
    evidence.orderFrom = measured.fromSensors ? OrderFrom::sensors : OrderFrom::sound;
}

ChangeEvidence changeInto(const Score& score, const Drill& drill, std::size_t index, const Lookup& found,
                          NoteFacts& facts) {
    const ScoreNote& from = score.notes[index - 1];
    const ScoreNote& to = score.notes[index];
    const NoteResult& reached = *found.notes[index];
    ChangeEvidence evidence;
    evidence.change = {from.combination, to.combination};
    evidence.usualFrom = facts.usual(from);
    evidence.usualTo = facts.usual(to);
    evidence.interval = static_cast<std::int8_t>(std::clamp(to.written - from.written, -127, 127));
    evidence.partialJump = static_cast<std::int8_t>(facts.partial(to) - facts.partial(from));
    const auto segment = static_cast<std::size_t>(to.segment);
    evidence.touch = segment < drill.segments.size() ? drill.segments[segment].touch : Touch::firm;
    evidence.place = placeOf(to);
    evidence.written = static_cast<std::uint8_t>(std::clamp(to.written, lowestMidiNote, highestMidiNote));
    evidence.sinceAccent = sinceAccent(score, index);
    evidence.offBeat = (to.onset - score.countInTicks) % score.meter.beatTicks() != 0;
    const auto span = static_cast<std::size_t>(to.span);
    evidence.first = static_cast<int>(index) == score.spans[span].firstNote + 1;
    evidence.ticks = static_cast<std::int32_t>(to.onset - score.spans[span].start);
    evidence.rung = static_cast<std::int16_t>(to.rung);
    evidence.segment = static_cast<std::int16_t>(to.segment);
    evidence.span = to.span;
    evidence.note = static_cast<std::int32_t>(index);
    evidence.error = isError(reached);
    if (evidence.error)
        return evidence;
    evidence.deviationMs = usable(reached.deviationMs);
    const NoteResult* left = found.notes[index - 1];
    const ChangeResult* measured = found.changes[index];
    if (!left || isError(*left) || !measured)
        return evidence;
    if (measured->slurred)
        evidence.changeoverMs = usable(measured->changeoverMs);
    addOrder(evidence, *measured);
    return evidence;
}

/// Sums of the logarithms of a span's changeovers.
struct LogSum {
    double sum = 0.0;
    int count = 0;
};

std::vector<LogSum> logSums(std::size_t spans, const std::vector<ChangeEvidence>& changes) {
    std::vector<LogSum> sums(spans);
    for (const auto& change : changes)
        if (change.changeoverMs && *change.changeoverMs > 0.0F) {
            auto& span = sums[static_cast<std::size_t>(change.span)];
            span.sum += std::log(static_cast<double>(*change.changeoverMs));
            ++span.count;
        }
    return sums;
}

SegmentEvidence segmentOf(const Drill& drill, const SegmentResult& result, const LogSum& logs) {
    SegmentEvidence evidence;
    evidence.rung = result.rung;
    evidence.segment = result.segment;
    const auto segment = static_cast<std::size_t>(result.segment);
    if (segment < drill.segments.size()) {
        evidence.touch = drill.segments[segment].touch;
        evidence.even = drill.segments[segment].rhythm.isEven();
    }
    if (result.ioiSpreadMs)
        evidence.ioiSpreadMs = result.ioiSpreadMs->value;
    if (logs.count > 0)
        evidence.meanLogChangeover = logs.sum / logs.count;
    return evidence;
}

} // namespace

TakeEvidence evidenceOf(const TakeFacts& facts, const Drill& drill, const Instrument& instrument,
                        const Score& score, const Performance& performance) {
    TakeEvidence take;
    take.facts = facts;
    NoteFacts noteFacts(instrument);
    const Lookup found = lookUp(score, performance);
    for (const auto* note : found.notes)
        take.notes += note ? 1 : 0;
    take.changes.reserve(static_cast<std::size_t>(take.notes));
    for (std::size_t i = 1; i < score.notes.size(); ++i)
        if (found.notes[i] && score.notes[i].span == score.notes[i - 1].span)
            take.changes.push_back(changeInto(score, drill, i, found, noteFacts));
    const auto logs = logSums(score.spans.size(), take.changes);
    for (const auto& segment : performance.segments)
        if (segment.played && segment.span >= 0 &&
            static_cast<std::size_t>(segment.span) < score.spans.size())
            take.segments.push_back(segmentOf(drill, segment, logs[static_cast<std::size_t>(segment.span)]));
    return take;
}

std::size_t changeCount(std::span<const TakeEvidence> takes) {
    std::size_t changes = 0;
    for (const auto& take : takes)
        changes += take.changes.size();
    return changes;
}

std::map<PlayerAndInstrument, std::vector<TakeEvidence>> apart(std::vector<TakeEvidence> takes) {
    std::map<PlayerAndInstrument, std::vector<TakeEvidence>> groups;
    std::set<std::string> seen;
    for (auto& take : takes) {
        if (!take.facts.id.empty() && !seen.insert(take.facts.id).second)
            continue;
        const std::string player = take.facts.player + (take.facts.invented ? " (invented)" : "");
        groups[{player, take.facts.instrumentId}].push_back(std::move(take));
    }
    for (auto& [key, group] : groups)
        std::stable_sort(group.begin(), group.end(), [](const auto& a, const auto& b) {
            return a.facts.startedUtcMs < b.facts.startedUtcMs;
        });
    return groups;
}

double ageWeight(std::int64_t startedUtcMs, std::int64_t newestUtcMs) {
    const double days = static_cast<double>(newestUtcMs - startedUtcMs) / msPerDay;
    return std::exp2(-std::max(0.0, days) / ageHalfLifeDays);
}

} // namespace valveladder
