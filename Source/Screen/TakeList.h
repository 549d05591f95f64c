#pragma once

#include "Records/TakeRecord.h"
#include "Screen/Theme.h"

#include <juce_gui_basics/juce_gui_basics.h>

#include <functional>
#include <string>
#include <vector>

namespace valveladder {

/// Takes, the newest first, two lines each.
class TakeList final : public juce::Component, private juce::ListBoxModel {
public:
    TakeList();
    ~TakeList() override;

    /// `takes` oldest first, as the log gives them.
    void show(const std::vector<TakeSummary>& takes);
    [[nodiscard]] const TakeSummary* chosen() const;
    void choose(const std::string& id);
    void chooseNewest() { list.selectRow(0); }
    std::function<void(const std::string& id)> onChoice;
    /// Return or a double click: the player wants to write to a take.
    std::function<void(const TakeSummary&)> onNoteWanted;

    static constexpr int rowHeight = 52;
    static constexpr int leastHeight = grid::heading + rowHeight;

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
    [[nodiscard]] const TakeSummary* at(int row) const;

    std::vector<TakeSummary> newest;
    juce::ListBox list{{}, this};
};

} // namespace valveladder
