#pragma once

#include "View/PartReader.h"

#include <juce_gui_basics/juce_gui_basics.h>

#include <functional>

namespace valveladder {

/// The spots of a part, the costliest first: bars, change, times, changes a second, the player's own limit,
/// share of the time.
class PartList final : public juce::Component, public juce::TooltipClient, private juce::ListBoxModel {
public:
    PartList();
    ~PartList() override;

    void show(std::shared_ptr<const OpenedPart> part);
    /// Index of the chosen spot, -1 = none.
    [[nodiscard]] int chosen() const { return list.getSelectedRow(); }
    std::function<void()> onChoice;
    /// Return or a double click.
    std::function<void()> onTaken;

    /// Of all spots, px.
    [[nodiscard]] int wholeHeight();

    static constexpr int columnCount = 6;
    /// Where a column stands, in its head and in every row.
    [[nodiscard]] juce::Rectangle<float> columnAt(int column, juce::Rectangle<float> row) const;
    [[nodiscard]] juce::Rectangle<float> head() const;

    /// Of the column whose head is pointed at.
    juce::String getTooltip() override;
    void resized() override;
    void paint(juce::Graphics& g) override;
    void paintOverChildren(juce::Graphics& g) override;
    void focusOfChildComponentChanged(FocusChangeType) override { repaint(); }
    void lookAndFeelChanged() override { list.repaint(); }

private:
    int getNumRows() override;
    void paintListBoxItem(int row, juce::Graphics& g, int width, int height, bool selected) override;
    juce::String getNameForRow(int row) override;
    juce::String getTooltipForRow(int row) override;
    void selectedRowsChanged(int row) override;
    void returnKeyPressed(int row) override;
    void listBoxItemDoubleClicked(int row, const juce::MouseEvent& event) override;

    std::shared_ptr<const OpenedPart> shown;
    juce::ListBox list{{}, this};
};

} // namespace valveladder
