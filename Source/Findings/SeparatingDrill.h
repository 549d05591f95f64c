#pragma once

#include "Findings/Suspect.h"

#include <optional>
#include <random>
#include <span>
#include <string>
#include <vector>

namespace valveladder {

/// What a player can and will play to settle a question.
struct SeparatingLimits {
    MidiNote lowest = 54; ///< written, inclusive
    MidiNote highest = 67;
    double bpm = 60.0;        ///< quarters a minute, 10..400
    double maxSeconds = 60.0; ///< of one take, count-in and rests included
    int maxCells = 6;
    int repeats = 4;         ///< times a cell is played within a breath
    int widestSemitones = 7; ///< between the two notes of a cell
    double maxCents = 35.0;  ///< alternates further off than this are left alone
};

/// From the ladder's foot of this instrument to an octave and a semitone above, as far as the instrument
/// reaches, at `bpm`.
[[nodiscard]] SeparatingLimits usualLimits(const Instrument& instrument, double bpm);

/// A cell with the fingerings that its notes are asked for.
struct FingeredCell {
    std::vector<MidiNote> notes;
    std::vector<Combination> combinations; ///< one for each note

    bool operator==(const FingeredCell&) const = default;
};

/// The same as a cell of a drill, valves and all.
[[nodiscard]] DrillCell cellOf(const FingeredCell& cell);

/// Stays on one partial, within a major third: the fingers work, and the lip need not jump.
[[nodiscard]] bool isStepwise(const FingeredCell& cell, const Instrument& instrument);

struct SeparatingDrill {
    Drill drill;
    std::vector<FingeredCell> cells;
    double gain = 0.0;    ///< of the log-determinant of the information
    double seconds = 0.0; ///< of one take, count-in and rests included
};

/// Every cell of two notes within the limits, in each allowed fingering: what a choice is made from.
[[nodiscard]] std::vector<FingeredCell> cellPool(const Instrument& instrument,
                                                 const SeparatingLimits& limits);

/// The drill of cells that tells `questions` and the finger effects apart soonest, given what was played:
/// greedy D-optimal design, each step the cell that raises the log-determinant of the information most
/// (Fedorov, "Theory of Optimal Experiments", 1972; greedy steps lose at most 1 - 1/e of the best gain, as
/// the log-determinant is submodular: Nemhauser, Wolsey & Fisher 1978). Cells that are stepwise are taken
/// while they tell as much apart as all would; leaps come in only where nothing else does. No cell comes
/// twice. Nothing when no cell can be played within the time.
[[nodiscard]] std::optional<SeparatingDrill> drillThatSeparates(std::span<const TakeEvidence> played,
                                                                const std::vector<Suspect>& questions,
                                                                const Instrument& instrument,
                                                                const SeparatingLimits& limits);

/// A drill of given cells, each note with the fingering that its cell asks for.
[[nodiscard]] Drill cellDrill(const std::vector<FingeredCell>& cells, const std::string& name, int repeats);

/// What one play of a cell asks for.
[[nodiscard]] std::vector<ChangeEvidence> changesOf(const FingeredCell& cell, int repeats);

} // namespace valveladder
