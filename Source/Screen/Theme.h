#pragma once

#include <juce_gui_basics/juce_gui_basics.h>

namespace valveladder {

/// Hues of the palette by Okabe and Ito, "Color Universal Design" (2008), which stay apart for all common
/// kinds of colour vision (see also Wong, "Points of view: Color blindness", Nature Methods 8, 2011).
namespace okabeIto {
inline const juce::Colour orange{0xFFE69F00};
inline const juce::Colour skyBlue{0xFF56B4E9};
inline const juce::Colour blue{0xFF0072B2};
inline const juce::Colour vermilion{0xFFD55E00};
} // namespace okabeIto

/// Colours by what they are for. Words are always in `text`, `quiet` or `accentText`, which keep a contrast
/// of 4.5:1 and more on every surface (WCAG 2.2, 1.4.3); the hues mark shapes, and never alone.
struct Theme {
    bool isDark = true;
    juce::Colour ground; ///< the window
    juce::Colour panel;  ///< what lies on it
    juce::Colour raised; ///< controls
    juce::Colour line;   ///< hairlines and axes
    juce::Colour text;
    juce::Colour quiet;
    juce::Colour accent; ///< the one hue: position, what is chosen, what is yours
    juce::Colour accentText;
    juce::Colour onAccent; ///< words and marks on the accent
    juce::Colour alarm;    ///< trouble and faults; always beside a sign
    juce::Colour ink;      ///< engraving
    juce::Colour faintInk; ///< valves to come, ladders not climbed

    [[nodiscard]] static const Theme& dark();
    [[nodiscard]] static const Theme& light();
};

/// Distances of the grid and heights of type, px at 100 %.
namespace grid {
inline constexpr int unit = 8;
inline constexpr int margin = 24;
inline constexpr int gutter = 16;
inline constexpr int control = 32; ///< height of every control; WCAG 2.2, 2.5.8 asks for 24
inline constexpr float caption = 13.0F;
inline constexpr float body = 15.0F;
inline constexpr float lead = 18.0F;
inline constexpr float title = 24.0F;
inline constexpr float figure = 40.0F;
} // namespace grid

} // namespace valveladder
