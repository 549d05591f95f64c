#pragma once

#include <juce_gui_basics/juce_gui_basics.h>

#include <memory>
#include <vector>

namespace valveladder {

/// Labelled controls in columns, in the order of adding; each is named for screen readers by its label.
class Form final : public juce::Component {
public:
    explicit Form(int columns) : columnCount(columns) {}

    /// Adds a control that the caller owns.
    void add(const juce::String& label, juce::Component& control);
    void resized() override;
    [[nodiscard]] int heightNeeded() const;

private:
    struct Row {
        std::unique_ptr<juce::Label> label;
        juce::Component* control = nullptr;
    };
    [[nodiscard]] int rowsPerColumn() const;

    int columnCount;
    std::vector<Row> rows;
};

} // namespace valveladder
