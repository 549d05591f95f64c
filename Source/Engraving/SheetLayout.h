#pragma once

#include "Engraving/NoteValues.h"
#include "Engraving/SheetSpelling.h"
#include "Music/PlayOrder.h"
#include "Score/Score.h"

#include <optional>
#include <vector>

namespace valveladder {

/// What one note has of a beam of one level. A hook is a short piece at this note alone, to its right
/// (forward) or left.
enum class BeamPart { begin, through, end, forwardHook, backwardHook };

/// One notehead or rest of a sheet. A note longer than one value is several of these, tied.
struct SheetSymbol {
    int note = -1; ///< into Score::notes; -1 for a rest
    std::int64_t start = 0;
    NoteValue value;
    TimeRatio ratio;
    bool tiedFrom = false; ///< continues the symbol before it
    bool tiedTo = false;
    bool wholeBar = false; ///< a rest that fills its bar
    bool tupletStart = false;
    bool tupletStop = false;
    std::vector<BeamPart> beams; ///< level 1 (eighths) first; empty = flag or none
    std::vector<int> graces{};   ///< grace notes before it, into Score::notes

    [[nodiscard]] std::int64_t end() const { return start + value.length; }
};

struct SheetBar {
    std::vector<SheetSymbol> symbols;
    int span = -1;              ///< the segment that begins in this bar, into Score::spans; -1 when none does
    std::optional<Meter> meter; ///< printed at this bar: the first one's, or one that is new
    int fifths = 0;             ///< key in force: sharps, negative = flats
    BarSigns signs{};           ///< printed at this bar
};

/// A drill's pass as engraved bars, count-in left out. Times are in units of which `quarter` make a quarter
/// note, from the first bar's start; all are whole numbers in every rhythm.
struct SheetLayout {
    std::int64_t quarter = 0;
    std::vector<SheetBar> bars;
    Spelling names = Spelling::sharps; ///< of every note, where `spellings` does not say it note by note
    std::vector<Spelled> spellings;    ///< of Score::notes, as a part's file spells them; or empty

    /// A note of `score` as it stands on the staff.
    [[nodiscard]] Spelled spelled(const Score& score, int note) const {
        const auto index = static_cast<std::size_t>(note);
        return spellings.empty() ? spell(score.notes[index].written, names) : spellings[index];
    }
};

/// `drill` is the one that `score` was built from: its rhythms are exact where the score's ticks are rounded.
/// `names`: see writtenSpelling(). Refused where there are no notes or a rhythm cannot be written.
[[nodiscard]] Result<SheetLayout> layOut(const Score& score, const Drill& drill, Spelling names);

} // namespace valveladder
