#include "Screen/SaidComponent.h"

namespace valveladder {

namespace {

/// The value as text that cannot be changed.
class SaidValue final : public juce::AccessibilityTextValueInterface {
public:
    explicit SaidValue(const SaidComponent& owner) : picture(owner) {}
    bool isReadOnly() const override { return true; }
    juce::String getCurrentValueAsString() const override { return picture.said(); }
    void setValueAsString(const juce::String&) override {}

private:
    const SaidComponent& picture;
};

} // namespace

std::unique_ptr<juce::AccessibilityHandler> SaidComponent::createAccessibilityHandler() {
    return std::make_unique<juce::AccessibilityHandler>(
        *this, juce::AccessibilityRole::image, juce::AccessibilityActions(),
        juce::AccessibilityHandler::Interfaces(std::make_unique<SaidValue>(*this)));
}

juce::String described(const juce::String& title, const juce::String& detail) {
    return title + (title.isEmpty() || detail.isEmpty() ? "" : ". ") + detail;
}

void SaidComponent::setSaid(const juce::String& value) {
    if (value == saidValue)
        return;
    saidValue = value;
    if (auto* handler = getAccessibilityHandler())
        handler->notifyAccessibilityEvent(juce::AccessibilityEvent::valueChanged);
}

} // namespace valveladder
