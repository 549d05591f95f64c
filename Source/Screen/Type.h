#pragma once

#include <juce_gui_basics/juce_gui_basics.h>

#include <string>

namespace valveladder {

/// The window's letters: Inter, carried along, with a sharp and a flat drawn to it (see Resources/fonts).
[[nodiscard]] juce::Font plainFont(float height);
[[nodiscard]] juce::Font boldFont(float height);
[[nodiscard]] juce::Typeface::Ptr musicTypeface();

/// The largest of bold letters from `largest` down to `smallest`, px, in which a line is no wider than
/// `width`.
[[nodiscard]] juce::Font boldFontFitting(const juce::String& text, float width, float largest,
                                         float smallest);

/// withPitchSigns(). What is told and kept stays plain; all that is drawn passes here, by drawLine() and
/// textWidth(), by Look, or as a TextColumn's text, which can be copied with its signs.
[[nodiscard]] juce::String withSigns(const juce::String& text);

/// Width of a line of text as it is drawn, pixels.
[[nodiscard]] float textWidth(const juce::Font& font, const juce::String& text);

/// Width of a button whose words stand in letters of `font`, with `beside` pixels on either side.
[[nodiscard]] int buttonWidth(const juce::TextButton& button, const juce::Font& font, int beside);

[[nodiscard]] inline juce::String toText(const std::string& text) {
    return juce::String::fromUTF8(text.c_str());
}

} // namespace valveladder
