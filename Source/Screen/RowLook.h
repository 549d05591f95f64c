#pragma once

#include "Screen/Look.h"

namespace valveladder {

/// Room of a list of which no row is cut: as many whole rows, px high each, as `area` has room for, one at
/// least.
[[nodiscard]] inline juce::Rectangle<int> wholeRows(juce::Rectangle<int> area, int rowHeight) {
    return area.withHeight(juce::jmax(1, area.getHeight() / rowHeight) * rowHeight);
}

/// Ground of the row that is chosen, with brass at its left.
inline void paintChosenRow(juce::Graphics& g, juce::Rectangle<float> row, const Theme& theme) {
    g.setColour(theme.raised);
    g.fillRoundedRectangle(row, 6.0F);
    g.setColour(theme.accent);
    g.fillRoundedRectangle(row.withWidth(4.0F), 2.0F);
}

/// The ring around a list that has the keyboard's focus, drawn by what holds it.
inline void drawListFocus(juce::Graphics& g, const juce::ListBox& list) {
    if (list.hasKeyboardFocus(true))
        Look::drawFocus(g, list.getBounds().toFloat(), Look::themeOf(list));
}

} // namespace valveladder
