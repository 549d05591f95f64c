#pragma once

#include <juce_gui_basics/juce_gui_basics.h>

namespace valveladder {

/// Small drawn signs, so that no colour ever speaks alone.
enum class Sign { tick, cross, warning, hint, open, breath, extraNote, otherValves, finger };

void paintSign(juce::Graphics& g, Sign sign, juce::Rectangle<float> area, juce::Colour colour);

} // namespace valveladder
