#pragma once

#include <string>
#include <string_view>

namespace valveladder {

/// A text as it is drawn on screen and paper: the "#" or "b" of a pitch's name ("F#3", "Bb", "fa#3") is its
/// sign, U+266F or U+266D (Unicode, "Miscellaneous Symbols"). Paths, addresses and identifiers stay as they
/// are.
[[nodiscard]] std::string withPitchSigns(std::string_view text);

} // namespace valveladder
