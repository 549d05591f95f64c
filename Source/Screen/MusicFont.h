#pragma once

#include "Engraving/Glyph.h"

#include <juce_gui_basics/juce_gui_basics.h>

namespace valveladder {

/// A music symbol's outline, in staff spaces, origin as in Engraving/Glyph.h. Valid for the program's life.
/// [message]
[[nodiscard]] const juce::Path& glyphPath(Glyph glyph);

/// Text in which "#" and "b" after a note's letter stand as sharp and flat signs; one line, from the left or
/// centred.
void drawPitchText(juce::Graphics& g, const juce::String& text, juce::Rectangle<float> area,
                   const juce::Font& font, juce::Justification justification);

} // namespace valveladder
