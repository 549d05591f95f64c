#include "Screen/Form.h"

#include "Screen/Look.h"
#include "Screen/Type.h"

namespace valveladder {

namespace {

constexpr int rowHeight = grid::control + grid::unit;

} // namespace

void Form::add(const juce::String& label, const juce::String& help, juce::Component& control) {
    auto text = std::make_unique<juce::Label>(juce::String(), label);
    text->setAccessible(false); // its words are the control's own name
    text->setMinimumHorizontalScale(1.0F);
    control.setTitle(label);
    if (auto* helped = dynamic_cast<juce::SettableTooltipClient*>(&control))
        helped->setTooltip(help);
    text->setTooltip(help);
    control.setWantsKeyboardFocus(true);
    if (auto* editor = dynamic_cast<juce::TextEditor*>(&control)) {
        editor->setFont(plainFont(grid::body));
        editor->setJustification(juce::Justification::centredLeft);
        editor->setIndents(8, 0);
    }
    control.setExplicitFocusOrder(static_cast<int>(rows.size()) + 1);
    addAndMakeVisible(*text);
    addAndMakeVisible(control);
    rows.push_back({std::move(text), &control});
}

/// Every other control draws its ring itself; a slider repaints when it, or a part of it, gains or loses
/// focus.
void Form::paintOverChildren(juce::Graphics& g) {
    for (const Row& row : rows)
        if (dynamic_cast<const juce::Slider*>(row.control) != nullptr && row.control->hasKeyboardFocus(true))
            Look::drawFocus(g, row.control->getBounds().toFloat(), Look::themeOf(*this));
}

int Form::columnsFor(int width) const {
    return juce::jmax(1, width / narrowestColumn);
}

int Form::rowsPerColumn(int width) const {
    const int columns = columnsFor(width);
    return (static_cast<int>(rows.size()) + columns - 1) / columns;
}

int Form::heightFor(int width) const {
    return rowsPerColumn(width) * rowHeight;
}

void Form::resized() {
    const int columnWidth = getWidth() / columnsFor(getWidth());
    const int perColumn = rowsPerColumn(getWidth());
    for (int i = 0; i < static_cast<int>(rows.size()); ++i) {
        auto area = juce::Rectangle<int>(i / perColumn * columnWidth, i % perColumn * rowHeight,
                                         columnWidth - grid::margin, grid::control);
        rows[static_cast<std::size_t>(i)].label->setBounds(area.removeFromLeft(area.getWidth() * 45 / 100));
        rows[static_cast<std::size_t>(i)].control->setBounds(area);
    }
}

} // namespace valveladder
