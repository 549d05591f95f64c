#pragma once

#include <juce_gui_basics/juce_gui_basics.h>

#include <string>

namespace valveladder {

/// The window's letters: Inter, carried along (see Resources/fonts).
[[nodiscard]] juce::Font plainFont(float height);
[[nodiscard]] juce::Font boldFont(float height);
[[nodiscard]] juce::Typeface::Ptr musicTypeface();

[[nodiscard]] inline juce::String toText(const std::string& text) {
    return juce::String::fromUTF8(text.c_str());
}

} // namespace valveladder
