#pragma once

#include "Screen/Theme.h"
#include "Screen/Type.h"
#include "Screen/Wrap.h"

namespace valveladder {

/// The name over a part of a place: quiet over what is read or chosen from, in the colour of words over a
/// picture.
inline void drawHeading(juce::Graphics& g, const juce::String& name, juce::Rectangle<int> area,
                        juce::Colour colour,
                        juce::Justification justification = juce::Justification::topLeft) {
    g.setColour(colour);
    g.setFont(boldFont(grid::body));
    drawLine(g, name, area, justification);
}

} // namespace valveladder
