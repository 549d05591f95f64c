#pragma once

#include <juce_gui_basics/juce_gui_basics.h>

#include <initializer_list>

namespace valveladder {

/// The ground and the edge of what lies over a place: a card, or a sheet that is written on.
void paintCardFrame(juce::Graphics& g, const juce::Component& card, juce::Colour edge);

/// From the right of a row, each as wide as its words; hidden ones take no room.
void layOutFromRight(juce::Rectangle<int> row, std::initializer_list<juce::TextButton*> buttons);

} // namespace valveladder
