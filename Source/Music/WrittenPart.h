#pragma once

#include "Music/Marking.h"

#include <span>
#include <vector>

namespace valveladder {

/// What was found in a part as played, on the part as its file prints it.
struct WrittenMarks {
    Marking marking;
    /// `notes` are into this marking, in printed order, none where the file prints none of them by itself;
    /// bars stay those played.
    std::vector<Spot> spots;
};

/// `written` and `played` are one line of one MusicXML file, with PartChoice::unroll off and on. A note that
/// is played several times is marked as the first time; one that is never played, or only as the end of a
/// tie, as in `alone`, the marking of `written` by itself.
[[nodiscard]] WrittenMarks onWrittenPart(const Part& written, const Marking& alone, const Part& played,
                                         const Marking& marking, std::span<const Spot> spots);

} // namespace valveladder
