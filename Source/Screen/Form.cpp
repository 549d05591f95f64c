#include "Screen/Form.h"

#include "Screen/Look.h"
#include "Screen/Type.h"

namespace valveladder {

namespace {

constexpr int rowHeight = grid::control + grid::unit;
constexpr int besideWidth = 80;

} // namespace

void showIfWhole(juce::Component& part, juce::Range<int> seen) {
    const bool whole = seen.contains({part.getY(), part.getBottom()});
    part.setAlpha(whole ? 1.0F : 0.0F);
    part.setInterceptsMouseClicks(whole, whole);
}

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

void Form::addBeside(juce::Button& button) {
    button.setWantsKeyboardFocus(true);
    button.setExplicitFocusOrder(static_cast<int>(rows.size()));
    addAndMakeVisible(button);
    rows.back().beside = &button;
}

void Form::showWhole(juce::Range<int> seen) {
    for (const Row& row : rows)
        for (juce::Component* part :
             std::initializer_list<juce::Component*>{row.label.get(), row.control, row.beside})
            if (part != nullptr)
                showIfWhole(*part, seen);
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

int Form::widthFor(int controls) {
    return controls + grid::margin;
}

void Form::resized() {
    const int columnWidth = getWidth() / columnsFor(getWidth());
    const int perColumn = rowsPerColumn(getWidth());
    for (int i = 0; i < static_cast<int>(rows.size()); ++i) {
        auto area = juce::Rectangle<int>(i / perColumn * columnWidth, i % perColumn * rowHeight,
                                         columnWidth - grid::margin, grid::control);
        const Row& row = rows[static_cast<std::size_t>(i)];
        row.label->setBounds(area.removeFromLeft(area.getWidth() * 45 / 100));
        if (row.beside != nullptr) {
            row.beside->setBounds(area.removeFromRight(besideWidth));
            area.removeFromRight(grid::unit);
        }
        row.control->setBounds(area);
    }
}

} // namespace valveladder
