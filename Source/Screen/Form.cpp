#include "Screen/Form.h"

#include "Screen/Style.h"

namespace valveladder {

void Form::add(const juce::String& label, juce::Component& control) {
    auto text = std::make_unique<juce::Label>(juce::String(), label);
    text->setColour(juce::Label::textColourId, style::quietText);
    text->setFont(style::font(14.0F));
    text->setAccessible(false); // its words are the control's own name
    control.setTitle(label);
    control.setWantsKeyboardFocus(true);
    control.setExplicitFocusOrder(static_cast<int>(rows.size()) + 1);
    addAndMakeVisible(*text);
    addAndMakeVisible(control);
    rows.push_back({std::move(text), &control});
}

int Form::rowsPerColumn() const {
    return (static_cast<int>(rows.size()) + columnCount - 1) / columnCount;
}

int Form::heightNeeded() const {
    return rowsPerColumn() * (style::rowHeight + 4);
}

void Form::resized() {
    const int columnWidth = getWidth() / columnCount;
    const int perColumn = rowsPerColumn();
    for (int i = 0; i < static_cast<int>(rows.size()); ++i) {
        auto area = juce::Rectangle<int>(i / perColumn * columnWidth, i % perColumn * (style::rowHeight + 4),
                                         columnWidth - style::gap, style::rowHeight);
        rows[static_cast<std::size_t>(i)].label->setBounds(area.removeFromLeft(columnWidth * 2 / 5));
        rows[static_cast<std::size_t>(i)].control->setBounds(area);
    }
}

} // namespace valveladder
