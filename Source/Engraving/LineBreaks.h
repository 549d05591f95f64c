#pragma once

#include "Engraving/SheetPages.h"

namespace valveladder {

/// A line of music before it has a place.
struct MusicLine {
    Page page;
    std::vector<TimeKnot> spacing;
    double width = 0.0; ///< staff spaces
};

/// Bars into lines at most `width` wide (a bar that is wider alone is squeezed). A line breaks before the
/// bars that must begin one; of the other bars, before one that begins a segment, if its line holds any.
[[nodiscard]] std::vector<MusicLine> musicLines(const SheetContent& content, double width);

/// Width to be kept for words of a style; they are measured by count, which is near enough to keep them
/// apart.
[[nodiscard]] double roughWidth(TextStyle style, const std::string& text);

} // namespace valveladder
