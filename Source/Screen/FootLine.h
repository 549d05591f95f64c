#pragma once

#include "Screen/SaidComponent.h"

namespace valveladder {

/// The newest message in the foot: whole, or where it would not fit, that Messages has it.
class FootLine final : public SaidComponent, public juce::SettableTooltipClient {
public:
    FootLine();

    void show(const juce::String& wanted);
    void paint(juce::Graphics& g) override;
    void lookAndFeelChanged() override { repaint(); }

private:
    juce::String text;
};

} // namespace valveladder
