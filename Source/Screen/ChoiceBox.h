#pragma once

#include <juce_gui_basics/juce_gui_basics.h>

namespace valveladder {

/// A box to choose from that screen readers name by its title, with what is chosen as its value. JUCE's own
/// gives them what is chosen as the name, so that the field has none.
class ChoiceBox final : public juce::ComboBox {
public:
    using juce::ComboBox::ComboBox;
    std::unique_ptr<juce::AccessibilityHandler> createAccessibilityHandler() override;
};

} // namespace valveladder
