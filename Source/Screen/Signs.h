#pragma once

#include "Base/Signs.h"

#include <juce_gui_basics/juce_gui_basics.h>

namespace valveladder {

/// `area` is a square.
void paintSign(juce::Graphics& g, Sign sign, juce::Rectangle<float> area, juce::Colour colour);

} // namespace valveladder
