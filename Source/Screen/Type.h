#pragma once

#include <juce_gui_basics/juce_gui_basics.h>

#include <string>

namespace valveladder {

/// The window's letters: Inter, carried along (see Resources/fonts).
[[nodiscard]] juce::Font plainFont(float height);
[[nodiscard]] juce::Font boldFont(float height);
[[nodiscard]] juce::Typeface::Ptr musicTypeface();

/// The largest of bold letters from `largest` down to `smallest`, px, in which a line is no wider than
/// `width`.
[[nodiscard]] juce::Font boldFontFitting(const juce::String& text, float width, float largest,
                                         float smallest);

/// Width of a line of text, pixels.
[[nodiscard]] inline float textWidth(const juce::Font& font, const juce::String& text) {
#if JUCE_MAJOR_VERSION >= 8
    return juce::GlyphArrangement::getStringWidth(font, text);
#else
    return font.getStringWidthFloat(text);
#endif
}

[[nodiscard]] inline juce::String toText(const std::string& text) {
    return juce::String::fromUTF8(text.c_str());
}

} // namespace valveladder
