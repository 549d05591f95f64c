#pragma once

#include <juce_gui_basics/juce_gui_basics.h>

namespace valveladder {

/// A drawn part of the window that a screen reader can read: what it shows now is its value, everything in it
/// its description.
class SaidComponent : public juce::Component {
public:
    [[nodiscard]] const juce::String& said() const { return saidValue; }
    std::unique_ptr<juce::AccessibilityHandler> createAccessibilityHandler() override;

protected:
    /// Tells readers when it changed.
    void setSaid(const juce::String& value);

private:
    juce::String saidValue;
};

/// Two texts as one description; either may be empty.
[[nodiscard]] juce::String described(const juce::String& title, const juce::String& detail);

} // namespace valveladder
