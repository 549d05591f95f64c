// The keyboard: whose keys are whose, and who has it.

#include "Screen/HostKeys.h"
#include "Screen/Window.h"

namespace valveladder {

namespace {

/// In JUCE's, the keyboard of whatever cannot keep it goes to the first field of the place around it. Here it
/// goes to the window: nothing is typed into a field that was not chosen.
class NoDefault final : public juce::KeyboardFocusTraverser {
public:
    juce::Component* getDefaultComponent(juce::Component*) override { return nullptr; }
};

/// Keys that hosts use for their transport and their history.
bool isTheHosts(const juce::KeyPress& key) {
    const juce::juce_wchar letter = juce::CharacterFunctions::toLowerCase(key.getTextCharacter());
    return key.getModifiers().isCommandDown() || key == juce::KeyPress::spaceKey || letter == 'r';
}

} // namespace

std::unique_ptr<juce::ComponentTraverser> Window::createKeyboardFocusTraverser() {
    return std::make_unique<NoDefault>();
}

void Window::mouseDown(const juce::MouseEvent& event) {
    for (const auto* at = event.eventComponent; at != nullptr && at != this; at = at->getParentComponent())
        if (at->getWantsKeyboardFocus())
            return;
    if (isShowing() && !hasKeyboardFocus(false))
        grabKeyboardFocus();
}

/// The keyboard is the window's own wherever nothing in it has it: when it opens, and when what had it is
/// disabled or hidden. It is never taken from another window.
void Window::keepKeyboard() {
    followKeyboard();
    const auto* focused = getCurrentlyFocusedComponent();
    if ((focused != nullptr && !focused->isParentOf(this)) || !isShowing() ||
        getCurrentlyModalComponent() != nullptr)
        return;
    if (const auto* peer = getPeer(); peer != nullptr && peer->isFocused())
        grabKeyboardFocus();
}

void Window::followKeyboard() {
    auto* focused = getCurrentlyFocusedComponent();
    if (focused == followed.getComponent())
        return;
    followed = focused;
    if (focused == nullptr || !isParentOf(focused))
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

bool Window::isHosted(const Processor& plugin) {
    return plugin.wrapperType != juce::AudioProcessor::wrapperType_Standalone &&
           plugin.wrapperType != juce::AudioProcessor::wrapperType_Undefined;
}

bool Window::keysAreTheHosts() const {
    return isHosted(owner) && !preferences.ownTransportKeys;
}

bool Window::placeKey(juce::juce_wchar letter) {
    switch (letter) {
    case '1':
        goTo(Place::rung);
        return true;
    case '2':
        goTo(Place::landing);
        return true;
    case '3':
        goTo(Place::stair);
        return true;
    case '4':
        goTo(Place::part);
        return true;
    case 's':
        goTo(current == Place::setUp ? Place::rung : Place::setUp);
        return true;
    case 't':
        takeButton.triggerClick();
        return true;
    case 'r':
        repeatButton.triggerClick();
        return true;
    case 'p':
        if (PlayStrip* strip = soundStrip())
            strip->toggle();
        return soundStrip() != nullptr;
    case 'e':
        exportButton.triggerClick();
        return true;
    case 'm':
        messagesButton.onClick();
        return true;
    case 'd':
        if (current == Place::landing)
            landing.showDetails(!landing.detailsShown());
        return current == Place::landing;
    case 'b':
        goTo(Place::stair);
        stair.showSides(!stair.sidesShown());
        return true;
    default:
        return false;
    }
}

bool Window::historyKey(const juce::KeyPress& key) {
    if (!key.getModifiers().isCommandDown())
        return false;
    const auto letter =
        juce::CharacterFunctions::toLowerCase(static_cast<juce::juce_wchar>(key.getKeyCode()));
    if (letter == 'z')
        goBack(key.getModifiers().isShiftDown());
    else if (letter == 'y')
        goBack(true);
    else
        return false;
    return true;
}

bool Window::ownKey(const juce::KeyPress& key) {
    if (historyKey(key))
        return true;
    if (lookRound && key == juce::KeyPress::escapeKey) {
        endLookRound();
        return true;
    }
    if (key == juce::KeyPress::spaceKey) {
        runClock.triggerClick();
        return true;
    }
    return !key.getModifiers().isAnyModifierKeyDown() &&
           placeKey(juce::CharacterFunctions::toLowerCase(key.getTextCharacter()));
}

bool Window::keyPressed(const juce::KeyPress& key) {
    const bool theHosts = keysAreTheHosts();
    if (!(theHosts && isTheHosts(key)) && ownKey(key))
        return true;
    if (theHosts)
        passToHost(*this, key);
    return false;
}

} // namespace valveladder
