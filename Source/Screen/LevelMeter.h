#pragma once

#include "Screen/SaidComponent.h"

namespace valveladder {

/// How loud the input is, from -60 dB to full scale.
class LevelMeter final : public SaidComponent, public juce::SettableTooltipClient {
public:
    LevelMeter();

    /// Peak, full scale = 1.
    void show(double peak);
    [[nodiscard]] int level() const { return lit; } ///< 0..20, of 3 dB each
    void paint(juce::Graphics& g) override;
    void lookAndFeelChanged() override { repaint(); }

private:
    int lit = 0;
};

} // namespace valveladder
