#pragma once

#include <juce_gui_basics/juce_gui_basics.h>

namespace valveladder {

/// A box to choose from that screen readers name by its title, with what is chosen as its value. JUCE's own
/// gives them what is chosen as the name, so that the field has none.
class ChoiceBox final : public juce::ComboBox {
public:
    using juce::ComboBox::ComboBox;
    /// An arrow opens the list, in which Return chooses. JUCE's own chooses at once, unasked where the box
    /// merely happens to have the keyboard.
    bool keyPressed(const juce::KeyPress& key) override;
    std::unique_ptr<juce::AccessibilityHandler> createAccessibilityHandler() override;
};

} // namespace valveladder
