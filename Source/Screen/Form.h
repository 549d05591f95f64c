#pragma once

#include <juce_gui_basics/juce_gui_basics.h>

#include <memory>
#include <vector>

namespace valveladder {

/// Labelled controls in columns, in the order of adding; each is named for screen readers by its label.
class Form final : public juce::Component {
public:
    /// `narrowest` is the least width of a column, px; there are as many as fit.
    explicit Form(int narrowest) : narrowestColumn(narrowest) {}

    /// Adds a control that the caller owns. `help` is what it and its label say when they are pointed at.
    void add(const juce::String& label, const juce::String& help, juce::Component& control);
    void resized() override;
    void paintOverChildren(juce::Graphics& g) override;
    [[nodiscard]] int heightFor(int width) const;

private:
    struct Row {
        std::unique_ptr<juce::Label> label;
        juce::Component* control = nullptr;
    };
    [[nodiscard]] int columnsFor(int width) const;
    [[nodiscard]] int rowsPerColumn(int width) const;

    int narrowestColumn;
    std::vector<Row> rows;
};

} // namespace valveladder
