#include "Screen/Chips.h"

#include "Screen/Theme.h"
#include "Screen/Type.h"

namespace valveladder {

namespace {

constexpr int lineGap = 6;
constexpr int narrowest = 72;

} // namespace

Chips::Chips(const juce::String& name) {
    setTitle(name);
}

void Chips::offer(const std::vector<juce::String>& names, int chosen, const juce::String& tooltip) {
    while (buttons.size() > names.size())
        buttons.pop_back();
    while (buttons.size() < names.size()) {
        auto button = std::make_unique<juce::TextButton>();
        button->setWantsKeyboardFocus(true);
        button->setToggleable(true);
        button->onClick = [this, index = static_cast<int>(buttons.size())] {
            if (onChoice)
                onChoice(index);
        };
        addAndMakeVisible(*button);
        buttons.push_back(std::move(button));
    }
    for (std::size_t i = 0; i < names.size(); ++i) {
        buttons[i]->setButtonText(names[i]);
        buttons[i]->setTitle(getTitle() + ": " + names[i]);
        buttons[i]->setTooltip(tooltip);
        buttons[i]->setToggleState(static_cast<int>(i) == chosen, juce::dontSendNotification);
    }
    resized();
}

void Chips::layOut(int width, bool place, int& height) const {
    int x = 0;
    int y = 0;
    for (const auto& button : buttons) {
        const int wide = juce::jmax(narrowest, buttonWidth(*button, plainFont(grid::body), 16));
        if (x > 0 && x + wide > width) {
            x = 0;
            y += grid::control + lineGap;
        }
        if (place)
            button->setBounds(x, y, wide, grid::control);
        x += wide + grid::unit;
    }
    height = buttons.empty() ? 0 : y + grid::control;
}

int Chips::heightFor(int width) const {
    int height = 0;
    layOut(width, false, height);
    return height;
}

void Chips::resized() {
    int height = 0;
    layOut(getWidth(), true, height);
}

} // namespace valveladder
