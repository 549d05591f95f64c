#pragma once

#include "Listening/Corrections.h"

namespace valveladder {

/// What the note was called: "a wrong note", "after a breath".
[[nodiscard]] const char* inWords(ReportKind kind);

} // namespace valveladder
