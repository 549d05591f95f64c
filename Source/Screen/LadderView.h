#pragma once

#include "Ladder/RungName.h"
#include "Screen/SaidComponent.h"
#include "View/TakeModel.h"

#include <juce_gui_basics/juce_gui_basics.h>

#include <functional>

namespace valveladder {

/// The ladder of a take: rungs as bars, the lowest at the foot, one cell a segment. A cell is filled as far
/// as its notes were right; a clean one is full and ticked, others say how many faults they hold. Arrow keys
/// walk over the cells.
class LadderView final : public SaidComponent, public juce::SettableTooltipClient {
public:
    LadderView();

    void show(const TakeModel& model);
    void setNames(const PitchNames& wanted);
    [[nodiscard]] int chosenRung() const { return rung; }
    [[nodiscard]] int chosenSegment() const { return segment; }
    std::function<void()> onChoice;

    void paint(juce::Graphics& g) override;
    bool keyPressed(const juce::KeyPress& key) override;
    void mouseDown(const juce::MouseEvent& event) override;
    void mouseMove(const juce::MouseEvent& event) override;
    void focusGained(FocusChangeType) override { repaint(); }
    void focusLost(FocusChangeType) override { repaint(); }
    void lookAndFeelChanged() override { repaint(); }

private:
    struct Position {
        int rung = -1;
        int segment = -1;
    };
    [[nodiscard]] juce::Rectangle<float> cellArea(int rungIndex, int segmentIndex) const;
    [[nodiscard]] Position cellAt(juce::Point<float> point) const;
    [[nodiscard]] float rungHeight() const;
    [[nodiscard]] int rungsShown() const;
    [[nodiscard]] int lowestShown() const; ///< a long ladder shows the part round the chosen rung
    void choose(int rungIndex, int segmentIndex);
    void paintCell(juce::Graphics& g, const CellModel& cell, juce::Rectangle<float> area, bool chosen) const;
    void paintRails(juce::Graphics& g) const;
    void paintHeads(juce::Graphics& g) const;
    void say();
    [[nodiscard]] std::string labelOf(int rungIndex) const;

    std::vector<RungModel> rungs;
    std::vector<std::string> segmentNames;
    PitchNames names;
    int transposition = 0;
    int rung = 0;
    int segment = 0;
};

} // namespace valveladder
