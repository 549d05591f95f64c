#pragma once

#include "Listening/Corrections.h"
#include "Valves/Instrument.h"

#include <optional>
#include <string>

namespace valveladder {

/// What the note was called: "a wrong note", "after a breath".
[[nodiscard]] const char* inWords(ReportKind kind);
/// "97 % sure"; never all, and nothing of what is not known.
[[nodiscard]] std::string sureness(std::optional<double> likelihood);
/// "G#4, A4 heard besides": the extra notes near an expected one, by its index into Score::notes.
[[nodiscard]] std::string heardBesides(int note, const Performance& heard, const Instrument& instrument);

} // namespace valveladder
