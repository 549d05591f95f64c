#pragma once

#include "Engraving/Glyph.h"

#include <juce_gui_basics/juce_gui_basics.h>

namespace valveladder {

/// A music symbol's outline, in staff spaces, origin as in Engraving/Glyph.h. Valid for the program's life.
/// [message]
[[nodiscard]] const juce::Path& glyphPath(Glyph glyph);

} // namespace valveladder
