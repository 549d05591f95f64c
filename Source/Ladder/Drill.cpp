#include "Ladder/Drill.h"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>
#include <set>

namespace valveladder {

namespace {

std::vector<MidiNote> run(MidiNote foot, MidiNote top, Shape shape) {
    std::vector<MidiNote> up;
    for (MidiNote note = foot; note <= top; ++note)
        up.push_back(note);
    if (shape == Shape::up)
        return up;
    std::vector<MidiNote> notes = up;
    if (shape == Shape::upDown) {
        notes.insert(notes.end(), up.rbegin() + 1, up.rend());
    } else {
        notes.assign(up.rbegin(), up.rend());
        notes.insert(notes.end(), up.begin() + 1, up.end());
    }
    return notes;
}

/// Names within a drill's data stay as they are, whatever names the player chose.
std::string inSharps(MidiNote note) {
    return pitchName(note, Spelling::sharps);
}

std::vector<Rung> ladderRungs(const LadderPattern& pattern) {
    std::vector<Rung> result;
    for (MidiNote top = pattern.firstTop; top <= pattern.lastTop; ++top) {
        const MidiNote foot =
            pattern.growth == Growth::shift ? pattern.foot + top - pattern.firstTop : pattern.foot;
        result.push_back({inSharps(foot) + "-" + inSharps(top), run(foot, top, pattern.shape), {}, {}});
    }
    return result;
}

std::vector<Rung> cellRungs(const CellPattern& pattern) {
    std::vector<Rung> result;
    constexpr std::size_t namedNotes = 4;
    for (const DrillCell& cell : pattern.cells) {
        std::string label;
        for (std::size_t i = 0; i < std::min(cell.notes.size(), namedNotes); ++i)
            label += (i == 0 ? "" : " ") + inSharps(cell.notes[i]);
        result.push_back({cell.notes.size() > namedNotes ? label + " ..." : label, cell.notes, cell.valves,
                          cell.restAfter});
    }
    return result;
}

Problem wrong(std::string what, std::string where, std::string remedy) {
    return {std::move(what), std::move(where), std::move(remedy)};
}

bool outsideMidi(MidiNote note) {
    return note < lowestMidiNote || note > highestMidiNote;
}

std::optional<Problem> ladderFault(const LadderPattern& pattern) {
    if (outsideMidi(pattern.foot) || outsideMidi(pattern.firstTop) || outsideMidi(pattern.lastTop))
        return wrong("a pitch of the ladder is outside MIDI notes 0 to 127", "drill.pattern",
                     "choose pitches inside the instrument's range");
    if (pattern.firstTop <= pattern.foot)
        return wrong("the first top must lie above the foot", "drill.pattern.firstTop",
                     "choose a top at least a semitone above " + inSharps(pattern.foot));
    if (pattern.lastTop < pattern.firstTop)
        return wrong("the last top must not lie below the first", "drill.pattern.lastTop",
                     "choose " + inSharps(pattern.firstTop) + " or higher");
    if (pattern.lastTop - pattern.firstTop >= DrillLimits::maxRungs)
        return wrong("the ladder has " + std::to_string(pattern.lastTop - pattern.firstTop + 1) + " rungs",
                     "drill.pattern", "use at most " + std::to_string(DrillLimits::maxRungs));
    return std::nullopt;
}

std::string cellPlace(std::size_t index) {
    return "drill.pattern.cells[" + std::to_string(index) + "]";
}

bool within(double value, double most) {
    return std::isfinite(value) && value >= 0.0 && value <= most;
}

std::optional<Problem> cellFault(const DrillCell& cell, const std::string& where) {
    if (cell.notes.size() < DrillLimits::minCellNotes || cell.notes.size() > DrillLimits::maxCellNotes)
        return wrong("a cell has " + std::to_string(cell.notes.size()) + " notes", where,
                     fmt::format("use {} to {} notes", DrillLimits::minCellNotes, DrillLimits::maxCellNotes));
    if (!cell.valves.empty() && cell.valves.size() != cell.notes.size())
        return wrong("a cell of " + std::to_string(cell.notes.size()) + " notes has " +
                         std::to_string(cell.valves.size()) + " fingerings",
                     where + ".valves", "give one for each note, or none");
    const bool beats = cell.restAfter && cell.restAfter->unit == Rest::Unit::beats;
    if (cell.restAfter &&
        !within(cell.restAfter->amount, beats ? DrillLimits::maxRestBeats : DrillLimits::maxRestSeconds))
        return wrong(fmt::format("the rest after a cell must be 0 to {:g} beats or 0 to {:g} seconds",
                                 DrillLimits::maxRestBeats, DrillLimits::maxRestSeconds),
                     where + ".rest", "e.g. 10 seconds");
    return std::nullopt;
}

std::optional<Problem> cellsFault(const CellPattern& pattern) {
    if (pattern.cells.empty())
        return wrong("there is no cell", "drill.pattern.cells", "give at least one cell of two notes");
    if (pattern.cells.size() > DrillLimits::maxCells)
        return wrong("there are " + std::to_string(pattern.cells.size()) + " cells", "drill.pattern.cells",
                     "use at most " + std::to_string(DrillLimits::maxCells));
    for (std::size_t i = 0; i < pattern.cells.size(); ++i)
        if (auto fault = cellFault(pattern.cells[i], cellPlace(i)))
            return fault;
    return std::nullopt;
}

std::optional<Problem> segmentFault(const Segment& segment, const std::string& where) {
    const auto& shares = segment.rhythm.shares;
    if (shares.empty() || shares.size() > Rhythm::maxShares)
        return wrong(fmt::format("the rhythm needs 1 to {} shares", Rhythm::maxShares), where + ".rhythm",
                     "e.g. 3, 1 for long-short");
    if (std::any_of(shares.begin(), shares.end(), [](int s) { return s < 1 || s > Rhythm::maxShare; }))
        return wrong(fmt::format("each share of the rhythm must be 1 to {}", Rhythm::maxShare),
                     where + ".rhythm", "e.g. 3, 1 for long-short");
    if (segment.accents.group < DrillLimits::minAccentGroup ||
        segment.accents.group > DrillLimits::maxAccentGroup)
        return wrong(fmt::format("accent groups must hold {} to {} notes", DrillLimits::minAccentGroup,
                                 DrillLimits::maxAccentGroup),
                     where + ".accents.group", "choose 3 or 4");
    return std::nullopt;
}

std::optional<Problem> layoutFault(const Drill& drill) {
    if (drill.segments.empty() || drill.segments.size() > DrillLimits::maxSegments)
        return wrong(fmt::format("a drill needs 1 to {} segments", DrillLimits::maxSegments),
                     "drill.segments", "the usual number is four");
    for (std::size_t i = 0; i < drill.segments.size(); ++i)
        if (auto fault = segmentFault(drill.segments[i], "drill.segments[" + std::to_string(i) + "]"))
            return fault;
    if (drill.noteTicks < DrillLimits::minNoteTicks || drill.noteTicks > DrillLimits::maxNoteTicks)
        return wrong("the note value must lie between a thirty-second and a whole note", "drill.noteTicks",
                     "an eighth is " + std::to_string(ticksPerQuarter / 2));
    if (drill.repeats < 1 || drill.repeats > DrillLimits::maxRepeats)
        return wrong(fmt::format("repeats must be 1 to {}", DrillLimits::maxRepeats), "drill.repeats",
                     "the usual number is 1");
    return std::nullopt;
}

std::optional<Problem> timeFault(const Drill& drill) {
    const std::set<int> units{1, 2, 4, 8, 16};
    if (drill.meter.beats < 1 || drill.meter.beats > DrillLimits::maxMeterBeats ||
        !units.contains(drill.meter.unit))
        return wrong(fmt::format("the meter is not one of 1 to {} beats of 1, 2, 4, 8 or 16",
                                 DrillLimits::maxMeterBeats),
                     "drill.meter", "e.g. 4/4");
    if (drill.countInBars < 0 || drill.countInBars > DrillLimits::maxCountInBars)
        return wrong(fmt::format("the count-in must be 0 to {} bars", DrillLimits::maxCountInBars),
                     "drill.countInBars", "the usual number is 1");
    if (!within(drill.rest.amount, DrillLimits::maxRestBeats))
        return wrong(fmt::format("the rest between segments must be 0 to {:g}", DrillLimits::maxRestBeats),
                     "drill.rest", "e.g. 2 beats");
    if (!std::isfinite(drill.breathSeconds) || drill.breathSeconds < DrillLimits::minBreathSeconds ||
        drill.breathSeconds > DrillLimits::maxBreathSeconds)
        return wrong(fmt::format("the breath must be {:g} to {:g} seconds", DrillLimits::minBreathSeconds,
                                 DrillLimits::maxBreathSeconds),
                     "drill.breathSeconds", "the usual number is 12");
    return std::nullopt;
}

std::optional<Problem> pitchFault(const Drill& drill, const Instrument& instrument) {
    std::size_t notes = 0;
    for (const Rung& rung : rungs(drill)) {
        notes += rung.notes.size() * drill.segments.size() * static_cast<std::size_t>(drill.repeats);
        for (const MidiNote note : rung.notes)
            if (fingerings(instrument, note).empty())
                return wrong(writtenName(instrument, note) + " (written) cannot be played on " +
                                 instrument.name,
                             "drill.pattern",
                             "stay between " + writtenName(instrument, instrument.lowest) + " and " +
                                 writtenName(instrument, instrument.highest));
    }
    if (notes > DrillLimits::maxNotes)
        return wrong("the drill has " + std::to_string(notes) + " notes", "drill",
                     "use fewer rungs, segments or repeats (at most " +
                         std::to_string(DrillLimits::maxNotes) + " notes)");
    return std::nullopt;
}

std::optional<Problem> soundingFault(const Instrument& instrument, MidiNote note, Combination combination,
                                     const std::string& where) {
    if (fingeringOf(instrument, note, combination))
        return std::nullopt;
    return wrong(instrument.combinationName(combination) + " does not sound " +
                     writtenName(instrument, note) + " on " + instrument.name,
                 where, "choose one of its alternates");
}

std::optional<Problem> byHandFault(const Drill& drill, const Instrument& instrument) {
    for (const auto& [note, combination] : drill.fingering.byHand)
        if (auto fault = soundingFault(instrument, note, combination, "drill.fingering.byHand"))
            return fault;
    const auto all = rungs(drill);
    for (std::size_t r = 0; r < all.size(); ++r)
        for (std::size_t i = 0; i < all[r].valves.size(); ++i)
            if (const auto valves = all[r].valvesOf(i))
                if (auto fault =
                        soundingFault(instrument, all[r].notes[i], *valves, cellPlace(r) + ".valves"))
                    return fault;
    return std::nullopt;
}

} // namespace

Spelling writtenSpelling(const Drill& drill, const Instrument& instrument) {
    return drill.spelling.value_or(writtenSpelling(instrument));
}

std::vector<Rung> rungs(const Drill& drill) {
    if (const auto* ladder = std::get_if<LadderPattern>(&drill.pattern))
        return ladderRungs(*ladder);
    return cellRungs(std::get<CellPattern>(drill.pattern));
}

Drill defaultDrill(const Instrument& instrument) {
    Drill drill;
    LadderPattern ladder;
    ladder.foot = instrument.ladderFoot;
    ladder.firstTop = ladder.foot + 6;
    ladder.lastTop = ladder.firstTop + 2;
    ladder.shape = Shape::upDown;
    drill.pattern = ladder;
    if (instrument.valves == maxValves && !instrument.thumbValve)
        drill.fingering.policy = Policy::mixed;
    if (instrument.thumbValve)
        drill.fingering.policy = Policy::bothSides;
    return drill;
}

Result<Drill> checked(Drill drill, const Instrument& instrument) {
    std::optional<Problem> fault = std::holds_alternative<LadderPattern>(drill.pattern)
                                       ? ladderFault(std::get<LadderPattern>(drill.pattern))
                                       : cellsFault(std::get<CellPattern>(drill.pattern));
    if (!fault)
        fault = layoutFault(drill);
    if (!fault)
        fault = timeFault(drill);
    if (!fault)
        fault = pitchFault(drill, instrument);
    if (!fault)
        fault = byHandFault(drill, instrument);
    if (fault)
        return *fault;
    return drill;
}

} // namespace valveladder
