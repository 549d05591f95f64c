#pragma once

#include "Base/Problem.h"
#include "Ladder/Segment.h"
#include "Valves/Fingering.h"
#include "Valves/Spelling.h"

#include <initializer_list>
#include <optional>
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

/// A few written notes in the order played, with what they ask for of their own.
struct DrillCell {
    std::vector<MidiNote> notes;
    /// A combination for each note; absent where the drill's fingering decides. Empty = absent throughout.
    std::vector<std::optional<Combination>> valves;
    std::optional<Rest> restAfter; ///< after the cell's last segment, in place of the drill's rest

    DrillCell() = default;
    DrillCell(std::initializer_list<MidiNote> written) : notes(written) {}
    explicit DrillCell(std::vector<MidiNote> written, std::vector<std::optional<Combination>> pressed = {})
        : notes(std::move(written)), valves(std::move(pressed)) {}

    bool operator==(const DrillCell&) const = default;
};

/// Cells: short drills of two to four written notes each; every cell is one rung. Longer lists (up to
/// DrillLimits::maxCellNotes) are taken as well, for bars of a piece and rungs of a ladder.
struct CellPattern {
    std::vector<DrillCell> cells;

    bool operator==(const CellPattern&) const = default;
};

struct Drill {
    std::string name = "Chromatic ladder";
    std::variant<LadderPattern, CellPattern> pattern = LadderPattern{};
    std::vector<Segment> segments = defaultSegments();
    int noteTicks = ticksPerQuarter / 2; ///< note value, eighths by default
    int repeats = 1; ///< times the pattern of a rung is played inside one segment, one breath
    Meter meter;
    int countInBars = 1; ///< 0..DrillLimits::maxCountInBars
    Rest rest;
    double breathSeconds = 12.0; ///< a segment longer than this is warned of
    FingeringPolicy fingering;
    std::optional<Spelling>
        spelling{}; ///< of the piece that it is from; absent: as the instrument's notes are

    bool operator==(const Drill&) const = default;
};

/// One pattern at one height: written notes in the order played.
struct Rung {
    std::string label; ///< "F#3-C4"
    std::vector<MidiNote> notes;
    std::vector<std::optional<Combination>> valves; ///< as DrillCell::valves
    std::optional<Rest> restAfter;                  ///< as DrillCell::restAfter

    /// The combination that note `index` asks for by itself.
    [[nodiscard]] std::optional<Combination> valvesOf(std::size_t index) const {
        return index < valves.size() ? valves[index] : std::nullopt;
    }
};

/// Limits within which a drill is accepted.
struct DrillLimits {
    static constexpr int maxRungs = 64;
    static constexpr int maxCells = 512;
    static constexpr int minCellNotes = 2;
    static constexpr int maxCellNotes = 128; ///< a rung of three octaves both ways, and more
    static constexpr double maxRestBeats = 120.0;
    static constexpr double maxRestSeconds = 3600.0; ///< of a cell's own rest; 120 between segments
    static constexpr int maxSegments = 16;
    static constexpr int maxRepeats = 32;
    static constexpr int minAccentGroup = 2; ///< notes
    static constexpr int maxAccentGroup = 16;
    static constexpr int maxMeterBeats = 32;
    static constexpr int maxCountInBars = 8;
    static constexpr double minBreathSeconds = 1.0;
    static constexpr double maxBreathSeconds = 120.0;
    static constexpr int maxNotes = 60000;
    static constexpr int minNoteTicks = ticksPerQuarter / 8;
    static constexpr int maxNoteTicks = ticksPerQuarter * 4;
};

/// How a drill's written notes are spelled where the player chose no names: as the piece that it is from,
/// else as the instrument's.
[[nodiscard]] Spelling writtenSpelling(const Drill& drill, const Instrument& instrument);

/// The rungs of a drill, foot first. Precondition: checked(drill, ...) succeeded.
[[nodiscard]] std::vector<Rung> rungs(const Drill& drill);

/// The daily drill of an instrument: its own ladder foot, first top six semitones above, last top two more,
/// each rung up and back down in one breath.
///
/// Fingerings: mixed by segment on four valves, on a double horn both sides by segment, else the usual ones.
///
/// Why both ways: by rank arithmetic over press and release of each finger beside a line for each segment,
/// touch, jump of partial, fingers moved, direction, interval, pitch and its square, accents and the notes
/// after them, length of this note and the one before, and place in segment and beat:
/// - Up only, three valves: "3 pressing" is the jump and "2 releasing" the number of fingers moved, so that
///   neither can be named; 2 of 6 directions are known. Four valves: 4 of 8.
/// - Up and down, each finger alone can be named on every instrument of the catalogue (variance inflation at
///   most 1.6). All at once: four valves 8 of 8, condition 5.3; horn in F 6 of 6, 8.6; double horn with both
///   sides 8 of 8, 10.2; three valves otherwise 5 of 6.
/// - The one that is short there is parity and no matter of fingering: within a partial a semitone moves
/// valve
///   2 or valve 3 and never both, at the jump it moves both, so "2 and 3 all slow" is "the jump is slow".
///   No chromatic run between these notes is without it; whole tones beside the ladder tell the two apart.
[[nodiscard]] Drill defaultDrill(const Instrument& instrument);

/// The drill itself, or the first thing that keeps it from being played on this instrument.
[[nodiscard]] Result<Drill> checked(Drill drill, const Instrument& instrument);

} // namespace valveladder
