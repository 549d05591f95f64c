#pragma once

#include "Base/Problem.h"
#include "Ladder/Segment.h"
#include "Valves/Fingering.h"

#include <string>
#include <variant>
#include <vector>

namespace valveladder {

/// Note values and meters are in these ticks everywhere inside; dotted, triplet and quintuplet values are
/// exact.
inline constexpr int ticksPerQuarter = 5040;

enum class Growth {
    shift, ///< foot and top rise together
    extend ///< the foot stays, the top rises
};
enum class Shape { up, upDown, downUp };

/// The chromatic ladder: rungs from `foot` to `firstTop`, then a semitone higher each, until `lastTop`.
/// Written pitch.
struct LadderPattern {
    MidiNote foot = 54;     ///< F#3
    MidiNote firstTop = 60; ///< C4
    MidiNote lastTop = 62;  ///< D4
    Growth growth = Growth::shift;
    Shape shape = Shape::up;

    bool operator==(const LadderPattern&) const = default;
};

/// Cells: short drills of two to four written notes each; every cell is one rung. Longer lists (up to 64
/// notes) are taken as well, for bars of a piece.
struct CellPattern {
    std::vector<std::vector<MidiNote>> cells;

    bool operator==(const CellPattern&) const = default;
};

struct Meter {
    int beats = 4;
    int unit = 4; ///< 1, 2, 4, 8, 16

    [[nodiscard]] int beatTicks() const { return ticksPerQuarter * 4 / unit; }
    [[nodiscard]] int barTicks() const { return beats * beatTicks(); }

    bool operator==(const Meter&) const = default;
};

/// The rest between segments. Seconds are rounded up to whole beats at the take's tempo.
struct Rest {
    double amount = 2.0;
    enum class Unit { beats, seconds } unit = Unit::beats;
    bool toNextBar = true; ///< lengthen so that the next segment starts on a bar line

    bool operator==(const Rest&) const = default;
};

struct Drill {
    std::string name = "Chromatic ladder";
    std::variant<LadderPattern, CellPattern> pattern = LadderPattern{};
    std::vector<Segment> segments = defaultSegments();
    int noteTicks = ticksPerQuarter / 2; ///< note value, eighths by default
    int repeats = 1; ///< times the pattern of a rung is played inside one segment, one breath
    Meter meter;
    int countInBars = 1; ///< 0..8
    Rest rest;
    double breathSeconds = 12.0; ///< a segment longer than this is warned of
    FingeringPolicy fingering;

    bool operator==(const Drill&) const = default;
};

/// One pattern at one height: written notes in the order played.
struct Rung {
    std::string label; ///< "F#3-C4"
    std::vector<MidiNote> notes;
};

/// Limits within which a drill is accepted.
struct DrillLimits {
    static constexpr int maxRungs = 64;
    static constexpr int maxSegments = 16;
    static constexpr int maxRepeats = 32;
    static constexpr int maxNotes = 60000;
    static constexpr int minNoteTicks = ticksPerQuarter / 8;
    static constexpr int maxNoteTicks = ticksPerQuarter * 4;
};

/// The rungs of a drill, foot first. Precondition: checked(drill, ...) succeeded.
[[nodiscard]] std::vector<Rung> rungs(const Drill& drill);

/// The default drill for an instrument: its own ladder foot, first top six semitones above, last top two
/// more.
[[nodiscard]] Drill defaultDrill(const Instrument& instrument);

/// The drill itself, or the first thing that keeps it from being played on this instrument.
[[nodiscard]] Result<Drill> checked(Drill drill, const Instrument& instrument);

} // namespace valveladder
