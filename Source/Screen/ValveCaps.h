#pragma once

#include "Screen/Theme.h"
#include "Valves/Combination.h"
#include "Valves/Instrument.h"

namespace valveladder {

/// How a valve is drawn: an upright capsule, lower and filled when it is down.
struct ValveLook {
    juce::Colour fill;    ///< when down
    juce::Colour onFill;  ///< its number then
    juce::Colour outline; ///< when up
    juce::Colour number;  ///< when up
};

/// How far a valve goes down, of its height.
inline constexpr float valveTravel = 0.26F;

/// `slot` is what the valve takes when it is up.
void paintValve(juce::Graphics& g, juce::Rectangle<float> slot, const juce::String& number, bool down,
                const ValveLook& look);

/// All valves of an instrument side by side in `area`, those of `combination` down.
void paintValves(juce::Graphics& g, juce::Rectangle<float> area, const Instrument& instrument,
                 Combination combination, const ValveLook& look);

/// A valve that is held, over the time that it is: the same capsule, lying. `outline` may be transparent.
void paintHold(juce::Graphics& g, juce::Rectangle<float> area, juce::Colour fill, juce::Colour outline);

} // namespace valveladder
