#pragma once

#include <juce_gui_basics/juce_gui_basics.h>

#include <memory>
#include <vector>

namespace valveladder {

/// Draws a part, and lets it be clicked, only where it lies whole between two heights of what it lies in:
/// none is cut in mid-line.
void showIfWhole(juce::Component& part, juce::Range<int> seen);

/// Labelled controls in columns, in the order of adding; each is named for screen readers by its label.
class Form final : public juce::Component {
public:
    /// `narrowest` is the least width of a column, px; there are as many as fit.
    explicit Form(int narrowest) : narrowestColumn(narrowest) {}

    /// Adds a control that the caller owns. `help` is what it and its label say when they are pointed at.
    void add(const juce::String& label, const juce::String& help, juce::Component& control);
    /// Puts a button that the caller owns, and has named, beside the control that was added last.
    void addBeside(juce::Button& button);
    /// showIfWhole() of each row.
    void showWhole(juce::Range<int> seen);
    void resized() override;
    void paintOverChildren(juce::Graphics& g) override;
    [[nodiscard]] int heightFor(int width) const;
    /// Width of a form of one column whose controls are to be that wide: a column keeps a margin at its
    /// right.
    [[nodiscard]] static int widthFor(int controls);

private:
    struct Row {
        std::unique_ptr<juce::Label> label;
        juce::Component* control = nullptr;
        juce::Button* beside = nullptr;
    };
    [[nodiscard]] int columnsFor(int width) const;
    [[nodiscard]] int rowsPerColumn(int width) const;

    int narrowestColumn;
    std::vector<Row> rows;
};

} // namespace valveladder
