#pragma once

#include "Valves/Change.h"
#include "Valves/Pitch.h"

#include <map>
#include <utility>
#include <vector>

namespace valveladder {

struct Score;

/// A change of valves that stopped half-way: some fingers had moved, the others not yet.
struct HalfDone {
    Change change;
    Combination between;    ///< what was pressed meanwhile
    double semitones = 0.0; ///< what it sounds then, above the note that was left

    /// The fingers that came late.
    [[nodiscard]] constexpr Combination late() const {
        return Combination(static_cast<std::uint8_t>(between.bits() ^ change.to.bits()));
    }

    auto operator<=>(const HalfDone&) const = default;
};

/// What half-done changes of a score would sound: any combination on the way, on any partial near the two
/// notes. Changes of one finger have none, nor has a score whose instrument is not known.
class HalfDoneChanges {
public:
    HalfDoneChanges() = default;
    explicit HalfDoneChanges(const Score& score);

    /// Those of every change that the score has between such pitches (fractional MIDI numbers as heard; how
    /// the take is tuned is not known, so that changes up to a semitone and a half away count too).
    [[nodiscard]] std::vector<HalfDone> between(double fromMidi, double toMidi) const;

private:
    std::map<std::pair<MidiNote, MidiNote>, std::vector<HalfDone>> bySounding;
};

} // namespace valveladder
