#pragma once

#include "Listening/Corrections.h"

#include <optional>
#include <string>

namespace valveladder {

/// What the note was called: "a wrong note", "after a breath".
[[nodiscard]] const char* inWords(ReportKind kind);
/// "97 % sure"; never all, and nothing of what is not known.
[[nodiscard]] std::string sureness(std::optional<double> likelihood);

} // namespace valveladder
