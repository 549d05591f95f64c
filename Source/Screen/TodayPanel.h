#pragma once

#include "Session/SessionView.h"

#include <juce_gui_basics/juce_gui_basics.h>

#include <memory>

namespace valveladder {

/// Takes of today with their results, newest first.
class TodayPanel final : public juce::Component, private juce::TableListBoxModel {
public:
    TodayPanel();
    ~TodayPanel() override;

    void show(const std::shared_ptr<const SessionView>& view);
    void resized() override;

    /// A take was chosen for a note by the player: its id and the note it has.
    std::function<void(const TakeSummary&)> onNoteWanted;

private:
    int getNumRows() override;
    void paintRowBackground(juce::Graphics& g, int row, int width, int height, bool selected) override;
    void paintCell(juce::Graphics& g, int row, int column, int width, int height, bool selected) override;
    juce::String getCellText(int row, int column) const;
    void returnKeyPressed(int row) override;
    void cellDoubleClicked(int row, int column, const juce::MouseEvent& event) override;
    [[nodiscard]] const TakeSummary* at(int row) const;

    std::vector<TakeSummary> takes; ///< newest first
    juce::TableListBox table{"Takes of today", this};
};

} // namespace valveladder
