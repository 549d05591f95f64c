#pragma once

#include "Screen/SaidComponent.h"

namespace valveladder {

/// Says beside what is shown that nobody played it; it is part of the place, so that a picture of it says so
/// as well.
class InventedTag final : public SaidComponent, public juce::SettableTooltipClient {
public:
    InventedTag();

    [[nodiscard]] int width() const;
    void paint(juce::Graphics& g) override;
    void lookAndFeelChanged() override { repaint(); }

    static constexpr int height = 28;
};

} // namespace valveladder
