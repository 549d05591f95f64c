#pragma once

#include "Screen/Signs.h"

#include <optional>
#include <vector>

namespace valveladder {

/// A sign on the sheet and what it means; without a sign where the words show it themselves.
struct SignMeaning {
    std::optional<Sign> sign;
    juce::Colour colour;
    juce::String text;
};

/// What the signs of a sheet mean, at the right foot of it, in as many lines as that takes.
class SignLegend {
public:
    static constexpr float lineHeight = 22.0F;

    void show(std::vector<SignMeaning> wanted) { entries = std::move(wanted); }
    [[nodiscard]] float heightFor(float width) const;
    void paint(juce::Graphics& g, juce::Rectangle<float> area, juce::Colour ink) const;

private:
    /// Of entries, each line's in the order they were shown.
    [[nodiscard]] std::vector<std::vector<const SignMeaning*>> linesFor(float width) const;

    std::vector<SignMeaning> entries;
};

} // namespace valveladder
