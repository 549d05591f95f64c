#pragma once

#include "Engraving/Engraving.h"

#include <juce_gui_basics/juce_gui_basics.h>

namespace valveladder {

/// Where an engraving lies on a component.
struct StaffPlace {
    float left = 0.0F;
    float top = 0.0F;    ///< of the staff's top line, px
    float space = 10.0F; ///< px a staff space

    [[nodiscard]] float x(double spaces) const { return left + static_cast<float>(spaces) * space; }
    [[nodiscard]] float y(double spaces) const { return top + static_cast<float>(spaces) * space; }
};

/// Draws the staff and everything on it.
void paintEngraving(juce::Graphics& g, const Engraving& engraving, const StaffPlace& place, juce::Colour ink,
                    juce::Colour staffLines);

/// Draws only what belongs to one note, over the rest.
void paintNote(juce::Graphics& g, const Engraving& engraving, const StaffPlace& place, int note,
               juce::Colour ink);

} // namespace valveladder
