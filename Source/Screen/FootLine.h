#pragma once

#include "Screen/SaidComponent.h"

namespace valveladder {

/// The newest message in the foot: whole, or its first sentence, or where even that would not fit, that
/// Messages has it. Where it comes from, in brackets behind it, stands in Messages alone.
class FootLine final : public SaidComponent, public juce::SettableTooltipClient {
public:
    FootLine();

    void show(const juce::String& wanted);
    /// What of it is seen in the room that there is.
    [[nodiscard]] juce::String seen() const;
    void paint(juce::Graphics& g) override;
    void lookAndFeelChanged() override { repaint(); }

private:
    juce::String text;
};

} // namespace valveladder
