#pragma once

#include <juce_gui_basics/juce_gui_basics.h>

namespace valveladder::style {

// Hues from the colour-blind-safe palette of Okabe and Ito, "Color Universal Design" (2008); never the only
// sign.
const juce::Colour skyBlue{0xFF56B4E9};
const juce::Colour orange{0xFFE69F00};
const juce::Colour vermilion{0xFFD55E00};
const juce::Colour bluishGreen{0xFF009E73};

const juce::Colour background{0xFF16181C};
const juce::Colour panel{0xFF20242A};
const juce::Colour edge{0xFF3A4048};
const juce::Colour text{0xFFF2F4F6};
const juce::Colour quietText{0xFFB4BCC6}; ///< 8:1 on the panel

inline constexpr int gap = 8;
inline constexpr int rowHeight = 28;

inline juce::Font font(float height, bool bold = false) {
    return juce::Font(height, bold ? juce::Font::bold : juce::Font::plain);
}

} // namespace valveladder::style
