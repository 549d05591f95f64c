#include "Screen/PedalField.h"

#include "Screen/Theme.h"
#include "Screen/Type.h"
#include "View/Words.h"

namespace valveladder {

namespace {

constexpr int forgetWidth = 72;

} // namespace

PedalField::PedalField() {
    learn.setClickingTogglesState(true);
    learn.setHelpText(words::learnHelp);
    learn.setTooltip(words::learnHelp);
    learn.onClick = [this] {
        write();
        if (learning() && onLearn)
            onLearn();
    };
    forget.setButtonText(words::forgetButton);
    forget.setTooltip(words::forgetHelp);
    forget.onClick = [this] {
        stopLearning();
        show({});
        if (onChange)
            onChange();
    };
    for (juce::TextButton* button : {&learn, &forget}) {
        button->setWantsKeyboardFocus(true);
        addAndMakeVisible(button);
    }
    write();
}

void PedalField::setPurpose(const juce::String& purpose) {
    does = purpose;
    write();
}

void PedalField::show(const Pedal& pedal) {
    current = pedal;
    write();
}

void PedalField::stopLearning() {
    learn.setToggleState(false, juce::dontSendNotification);
    write();
}

void PedalField::heard(bool isController, int number) {
    stopLearning();
    show(isController ? Pedal{-1, number} : Pedal{number, -1});
    if (onChange)
        onChange();
}

void PedalField::write() {
    const juce::String text = learning() ? juce::String(words::learnNow) : toText(words::pedalName(current));
    learn.setButtonText(text);
    learn.setTitle(does + ": " + text);
    forget.setTitle(does + ": " + words::forgetButton);
    forget.setEnabled(current != Pedal{});
}

void PedalField::resized() {
    auto area = getLocalBounds();
    forget.setBounds(area.removeFromRight(forgetWidth));
    area.removeFromRight(grid::unit / 2);
    learn.setBounds(area);
}

} // namespace valveladder
