#pragma once

#include "Screen/Signs.h"
#include "Screen/Theme.h"
#include "View/ResultModel.h"

namespace valveladder {

/// How what happened to a note is signed on the sheet, and in which ink.
[[nodiscard]] Sign signOf(NoteSign::Kind kind); ///< of early and late ones a figure takes its place
[[nodiscard]] Sign signOf(NoteAside aside);
[[nodiscard]] juce::Colour inkOf(NoteSign::Kind kind, const Theme& theme);
[[nodiscard]] bool isFault(NoteSign::Kind kind);
[[nodiscard]] juce::Font fingeringFont(bool fault);

} // namespace valveladder
