#include "Screen/NoteSheet.h"

#include "Screen/CardFrame.h"
#include "Screen/Look.h"
#include "Screen/Type.h"
#include "View/Words.h"

namespace valveladder {

NoteSheet::NoteSheet() {
    setTitle(words::noteTitle);
    setDescription(words::noteQuestion);
    setFocusContainerType(FocusContainerType::keyboardFocusContainer); // Tab stays on the sheet
    title.setText(words::noteQuestion, juce::dontSendNotification);
    Look::makeLead(title);
    for (juce::Label* label : {&title, &take}) {
        label->setBorderSize({});
        label->setMinimumHorizontalScale(1.0F);
        addAndMakeVisible(label);
    }
    field.setTitle(words::noteTitle);
    field.setTooltip(words::noteHelp);
    field.setFont(plainFont(grid::body));
    field.setJustification(juce::Justification::centredLeft);
    field.setIndents(8, 0);
    field.onReturnKey = [this] { keepWritten(); };
    field.onEscapeKey = [this] { close(); };
    keepButton.setButtonText(words::noteKeep);
    keepButton.setTooltip(words::noteKeepHelp);
    keepButton.setToggleable(true);
    keepButton.setToggleState(true, juce::dontSendNotification); // the one in brass
    keepButton.onClick = [this] { keepWritten(); };
    leaveButton.setButtonText(words::noteLeave);
    leaveButton.setTooltip(words::noteLeaveHelp);
    leaveButton.onClick = [this] { close(); };
    int order = 0;
    for (juce::Component* each : std::initializer_list<juce::Component*>{&field, &keepButton, &leaveButton}) {
        each->setWantsKeyboardFocus(true);
        each->setExplicitFocusOrder(++order);
        addAndMakeVisible(each);
    }
}

void NoteSheet::open(const juce::String& of, const juce::String& written,
                     std::function<void(const juce::String&)> keep) {
    onKeep = std::move(keep);
    hadKeys = juce::Component::getCurrentlyFocusedComponent();
    take.setText(of, juce::dontSendNotification);
    field.setText(written, juce::dontSendNotification);
    field.selectAll();
    setVisible(true);
    toFront(false);
    if (field.isShowing())
        field.grabKeyboardFocus();
}

void NoteSheet::close() {
    if (!isVisible())
        return;
    setVisible(false);
    onKeep = {};
    if (hadKeys != nullptr && hadKeys->isShowing())
        hadKeys->grabKeyboardFocus();
}

void NoteSheet::keepWritten() {
    if (onKeep)
        onKeep(field.getText());
    close();
}

/// No key goes on to the window, but Tab, which leads round the sheet.
bool NoteSheet::keyPressed(const juce::KeyPress& key) {
    if (key == juce::KeyPress::escapeKey)
        close();
    return !key.isKeyCode(juce::KeyPress::tabKey);
}

void NoteSheet::lookAndFeelChanged() {
    take.setColour(juce::Label::textColourId, Look::themeOf(*this).quiet);
    repaint();
}

std::unique_ptr<juce::AccessibilityHandler> NoteSheet::createAccessibilityHandler() {
    return std::make_unique<juce::AccessibilityHandler>(*this, juce::AccessibilityRole::dialogWindow);
}

void NoteSheet::resized() {
    auto area = getLocalBounds().reduced(grid::gutter);
    title.setBounds(area.removeFromTop(26));
    take.setBounds(area.removeFromTop(26));
    area.removeFromTop(grid::unit);
    field.setBounds(area.removeFromTop(grid::control));
    layOutFromRight(area.removeFromBottom(grid::control), {&keepButton, &leaveButton});
}

void NoteSheet::paint(juce::Graphics& g) {
    paintCardFrame(g, *this, Look::themeOf(*this).accent);
}

} // namespace valveladder
