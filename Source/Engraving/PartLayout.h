#pragma once

#include "Engraving/SheetLayout.h"
#include "Music/Marking.h"

namespace valveladder {

/// Bars of a part in the shape that is engraved.
struct LaidPart {
    Score score; ///< one span; tick 0 is the first bar's start
    SheetLayout layout;
    int firstNote = 0;         ///< of Part::notes, Score::notes[0]
    std::vector<int> newLines; ///< bars at which meter or key change
};

/// Lays out bars firstBar .. firstBar + barCount - 1 of Part::bars, fingered as marked. Key and the file's
/// own spelling are kept; of a MIDI file, onsets go to the nearest 48th of a quarter and gaps shorter than
/// the note are closed, as players leave them. Refused: bars that are not there, lengths that no note value
/// can write.
[[nodiscard]] Result<LaidPart> layOutPart(const Part& part, const Marking& marking, int firstBar,
                                          int barCount);

} // namespace valveladder
