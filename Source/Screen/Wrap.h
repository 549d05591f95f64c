#pragma once

#include <juce_gui_basics/juce_gui_basics.h>

#include <vector>

namespace valveladder {

/// The lines of a text at a width, px: broken between words, behind a slash of a path, or within a word that
/// is too long by itself, so that nothing is ever cut. A line feed begins a new line.
[[nodiscard]] std::vector<juce::String> wrapped(const juce::String& text, const juce::Font& font,
                                                float width);

/// Height of one line of a text that is read, px.
[[nodiscard]] inline float lineHeight(const juce::Font& font) {
    return font.getHeight() * 1.15F;
}

/// One line, whole whatever the room: nothing is left away, squeezed or ended with dots, so that what does
/// not fit is seen to stand out of it.
void drawLine(juce::Graphics& g, const juce::String& text, juce::Rectangle<float> area,
              juce::Justification justification);
inline void drawLine(juce::Graphics& g, const juce::String& text, juce::Rectangle<int> area,
                     juce::Justification justification) {
    drawLine(g, text, area.toFloat(), justification);
}

/// Draws the whole text from the top of `area` on, whatever its height; returns what is left under it.
juce::Rectangle<float> drawWrapped(juce::Graphics& g, const juce::String& text, const juce::Font& font,
                                   juce::Rectangle<float> area);

/// Height of the whole text at a width, px.
[[nodiscard]] float heightOf(const juce::String& text, const juce::Font& font, float width);

} // namespace valveladder
