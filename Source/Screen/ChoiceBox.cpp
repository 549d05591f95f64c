#include "Screen/ChoiceBox.h"

namespace valveladder {

namespace {

class ChosenValue final : public juce::AccessibilityTextValueInterface {
public:
    explicit ChosenValue(const juce::ComboBox& owner) : box(owner) {}
    bool isReadOnly() const override { return true; }
    juce::String getCurrentValueAsString() const override { return box.getText(); }
    void setValueAsString(const juce::String&) override {}

private:
    const juce::ComboBox& box;
};

juce::AccessibilityActions actionsOf(juce::ComboBox& box) {
    const auto open = [&box] { box.showPopup(); };
    return juce::AccessibilityActions()
        .addAction(juce::AccessibilityActionType::press, open)
        .addAction(juce::AccessibilityActionType::showMenu, open);
}

class Handler final : public juce::AccessibilityHandler {
public:
    explicit Handler(juce::ComboBox& owner)
        : AccessibilityHandler(owner, juce::AccessibilityRole::comboBox, actionsOf(owner),
                               Interfaces(std::make_unique<ChosenValue>(owner))),
          box(owner) {}

    juce::AccessibleState getCurrentState() const override {
        const auto state = AccessibilityHandler::getCurrentState().withExpandable();
        return box.isPopupActive() ? state.withExpanded() : state.withCollapsed();
    }
    juce::String getHelp() const override { return box.getTooltip(); }

private:
    juce::ComboBox& box;
};

} // namespace

bool ChoiceBox::keyPressed(const juce::KeyPress& key) {
    if (key == juce::KeyPress::upKey || key == juce::KeyPress::downKey || key == juce::KeyPress::returnKey) {
        showPopup();
        return true;
    }
    return false;
}

std::unique_ptr<juce::AccessibilityHandler> ChoiceBox::createAccessibilityHandler() {
    return std::make_unique<Handler>(*this);
}

} // namespace valveladder
