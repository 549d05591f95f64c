#pragma once

#include "Screen/SaidComponent.h"

namespace valveladder {

/// How loud the input is, as bars from -60 dB to full scale.
class LevelMeter final : public SaidComponent {
public:
    LevelMeter();

    /// Peak, full scale = 1.
    void show(double peak);
    void paint(juce::Graphics& g) override;
    void lookAndFeelChanged() override { repaint(); }

private:
    int lit = 0;
};

} // namespace valveladder
