#pragma once

#include "Screen/Signs.h"
#include "Screen/Theme.h"
#include "Words/NoteSigns.h"

namespace valveladder {

/// In which ink what happened to a note is signed on the sheet.
[[nodiscard]] juce::Colour inkOf(NoteSign::Kind kind, const Theme& theme);
[[nodiscard]] juce::Font fingeringFont(bool fault);

} // namespace valveladder
