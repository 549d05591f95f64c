#pragma once

#include "Findings/DrillVerdict.h"

#include <string>
#include <vector>

namespace valveladder {

/// How cells that tell fingers apart are played: follows their list.
inline constexpr const char* howCellsArePlayed = ", each back and forth in one slur";

/// Of a drill that leaves nothing open.
inline constexpr const char* everyFingerTold =
    "Takes of this drill can tell every finger, going down and coming up.";

/// "the jump to another partial".
[[nodiscard]] const char* inWords(circumstances::Term term);
/// What cannot be told apart by what was played in all takes so far.
[[nodiscard]] std::vector<std::string> inWords(const Identifiability& told, bool thumbValve = false);
/// "Play C4 (0)-D4 (1-3) and E4 (1-2)-F4 (1)", written pitch.
[[nodiscard]] std::string inWords(const std::vector<FingeredCell>& cells, const Instrument& instrument);
/// What no take of the drill can tell, and what would; empty when every finger can be told.
[[nodiscard]] std::vector<std::string> inWords(const DrillVerdict& verdict, const Instrument& instrument);
/// That of a drill; empty too where the drill cannot be laid out.
[[nodiscard]] std::vector<std::string> leftOpenBy(const Drill& drill, const Instrument& instrument);

} // namespace valveladder
