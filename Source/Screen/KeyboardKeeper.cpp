#include "Screen/KeyboardKeeper.h"

#include "Screen/Look.h"

namespace valveladder {

namespace {

class NoDefault final : public juce::KeyboardFocusTraverser {
public:
    juce::Component* getDefaultComponent(juce::Component*) override { return nullptr; }
};

} // namespace

std::unique_ptr<juce::ComponentTraverser> KeyboardKeeper::traverser() {
    return std::make_unique<NoDefault>();
}

void KeyboardKeeper::clicked(const juce::MouseEvent& event) {
    for (const auto* at = event.eventComponent; at != nullptr && at != &window; at = at->getParentComponent())
        if (at->getWantsKeyboardFocus())
            return;
    if (window.isShowing() && !window.hasKeyboardFocus(false))
        window.grabKeyboardFocus();
}

void KeyboardKeeper::keep() {
    follow();
    const auto* focused = juce::Component::getCurrentlyFocusedComponent();
    if ((focused != nullptr && !focused->isParentOf(&window)) || !window.isShowing() ||
        juce::Component::getCurrentlyModalComponent() != nullptr)
        return;
    if (const auto* peer = window.getPeer(); peer != nullptr && peer->isFocused())
        window.grabKeyboardFocus();
}

void KeyboardKeeper::follow() {
    auto* focused = juce::Component::getCurrentlyFocusedComponent();
    if (focused == followed.getComponent())
        return;
    followed = focused;
    if (focused == nullptr || !window.isParentOf(focused))
        return;
    auto* viewport = focused->findParentComponentOfClass<juce::Viewport>();
    if (viewport == nullptr || viewport->getHeight() <= focused->getHeight())
        return; // a list scrolls by itself
    const auto* content = viewport->getViewedComponent();
    const auto area = content->getLocalArea(focused, focused->getLocalBounds()).expanded(0, grid::gutter);
    const auto view = viewport->getViewArea();
    if (area.getY() < view.getY())
        viewport->setViewPosition(0, area.getY());
    else if (area.getBottom() > view.getBottom())
        viewport->setViewPosition(0, area.getBottom() - view.getHeight());
}

} // namespace valveladder
