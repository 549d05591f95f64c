#pragma once

#include "Ladder/PitchNames.h"
#include "Screen/SaidComponent.h"
#include "View/PlayModel.h"
#include "View/ResultModel.h"

#include <functional>

namespace valveladder {

/// The ladder at the left edge: rungs from below, a cell for each segment. After a take each cell tells how
/// it went; while playing, where one is. Arrow keys walk over the cells of a take.
class LadderView final : public SaidComponent, public juce::SettableTooltipClient {
public:
    LadderView();

    /// A take: its cells can be chosen.
    void show(const TakeModel& model);
    /// The drill that is played, and the cell that is on; cells before it have been passed.
    void show(const PlayModel& model);
    void setNames(const PitchNames& wanted);
    [[nodiscard]] CellPlace chosen() const { return cell; }
    void choose(const CellPlace& wanted);
    std::function<void()> onChoice;
    /// A cell was clicked, or Return pressed on it: more of it is wanted.
    std::function<void()> onTaken;
    [[nodiscard]] bool empty() const { return rungs.empty(); }

    static constexpr int width = 104;

    void paint(juce::Graphics& g) override;
    bool keyPressed(const juce::KeyPress& key) override;
    void mouseDown(const juce::MouseEvent& event) override;
    void mouseMove(const juce::MouseEvent& event) override;
    void focusGained(FocusChangeType) override { repaint(); }
    void focusLost(FocusChangeType) override { repaint(); }
    void lookAndFeelChanged() override { repaint(); }

private:
    [[nodiscard]] juce::Rectangle<float> cellArea(const CellPlace& place) const;
    [[nodiscard]] std::optional<CellPlace> cellAt(juce::Point<float> point) const;
    [[nodiscard]] float rungHeight() const;
    [[nodiscard]] int rungsShown() const;
    [[nodiscard]] int lowestShown() const; ///< a long ladder shows the part round the chosen rung
    [[nodiscard]] CellPlace within(const CellPlace& wanted) const;
    [[nodiscard]] const CellModel& cellOf(const CellPlace& place) const;
    void paintCell(juce::Graphics& g, const CellPlace& place) const;
    void paintPlayed(juce::Graphics& g, const CellModel& model, juce::Rectangle<float> area) const;
    void paintPassed(juce::Graphics& g, const CellPlace& place, juce::Rectangle<float> area) const;
    void paintRails(juce::Graphics& g) const;
    void say();
    [[nodiscard]] std::string wordsOf(const CellPlace& place) const;
    void showDrill(const Score& score, const CellPlace& now);
    [[nodiscard]] std::string labelOf(int rungIndex) const;

    std::vector<RungModel> rungs;
    std::vector<std::string> segmentNames;
    PitchNames names;
    CellPlace cell;
    bool playing = false; ///< it shows where one is, not how it went
};

} // namespace valveladder
