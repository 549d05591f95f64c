#pragma once

#include "Base/Signs.h"
#include "Listening/Corrections.h"

#include <optional>
#include <string>
#include <vector>

namespace valveladder {

/// What happened to a note, to stand under it: a kind with its sign, never its colour alone.
struct NoteSign {
    enum class Kind { right, saidRight, early, late, wrong, missed, split } kind = Kind::right;
    std::string text; ///< "+31", "-28"; empty where the sign says all
};

/// A right note that is further than this from its place is told with its figure, ms; our choice, no source.
inline constexpr double notableMs = 30.0;

/// `deviationMs`: positive = late, nothing where it was not measured. `saidRight`: only the player's word
/// makes the note right.
[[nodiscard]] NoteSign noteSign(Outcome outcome, bool split, std::optional<double> deviationMs,
                                bool saidRight = false);

/// What was told of a note beside that: each has a sign of its own, next to the note's.
enum class NoteAside {
    breath,    ///< before it, inside the segment
    extra,     ///< a note that nobody asked for
    valves,    ///< other valves than asked for, by sensors
    lateFinger ///< a finger of the change into it came after the others
};

/// `reports`: what is told of the note. `lateFingers`: of the change into it (cameLate()).
[[nodiscard]] std::vector<NoteAside> noteAsides(const std::vector<ReportKind>& reports,
                                                Combination lateFingers);

[[nodiscard]] Sign signOf(NoteSign::Kind kind); ///< of early and late ones a figure takes its place
[[nodiscard]] Sign signOf(NoteAside aside);
[[nodiscard]] bool isFault(NoteSign::Kind kind);

namespace words {

/// What a sign stands for, as a legend says it: "wrong note".
[[nodiscard]] const char* signMeaning(NoteSign::Kind kind);
[[nodiscard]] const char* signMeaning(NoteAside aside);
/// The same of one note: "wrong note", "31 ms late".
[[nodiscard]] std::string signInWords(const NoteSign& sign);

} // namespace words

} // namespace valveladder
