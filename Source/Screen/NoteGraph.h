#pragma once

#include "Screen/SaidComponent.h"
#include "View/GraphModel.h"

#include <juce_gui_basics/juce_gui_basics.h>

#include <functional>
#include <optional>

namespace valveladder {

/// One measure over the notes of a rung, all segments side by side, so that several such graphs share their
/// axis. Two takes may be laid over one another: the first is filled, the second open. Values beyond the axis
/// stand at its end, pointed.
class NoteGraph final : public SaidComponent, public juce::SettableTooltipClient {
public:
    explicit NoteGraph(NoteMeasure shownMeasure);

    /// `second` may be null. `rung` of both; `segment` is marked.
    void show(const TakeModel* first, const TakeModel* second, int rung, int segment);
    /// A note was clicked, or chosen by Return.
    std::function<void(int noteIndex)> onNote;
    /// Another note was chosen by the keyboard or the mouse.
    std::function<void(int noteIndex)> onChosen;
    /// Marks the note that is chosen; -1 = none.
    void setChosen(int noteIndex);
    /// Marks the note that is being played, of the first or second take; -1 = none.
    void setSounding(int noteIndex);
    void setNames(const PitchNames& wanted);
    void showPitches(bool wanted);
    /// False when the takes shown hold nothing of this measure, on any rung: one line, `lineHeight` high,
    /// says why, and no note can be chosen in it.
    [[nodiscard]] bool measured() const { return model.notMeasured.empty(); }
    static constexpr int lineHeight = 24;
    /// What names under the notes take beyond a graph without them.
    static constexpr int extraForNames = 34;

    void paint(juce::Graphics& g) override;
    void mouseDown(const juce::MouseEvent& event) override;
    bool keyPressed(const juce::KeyPress& key) override;
    void focusGained(FocusChangeType) override { repaint(); }
    void focusLost(FocusChangeType) override { repaint(); }
    void lookAndFeelChanged() override { repaint(); }

private:
    [[nodiscard]] juce::Rectangle<float> plot() const;
    [[nodiscard]] float xOf(std::size_t point) const;
    [[nodiscard]] float yOf(double value) const;
    void paintNotMeasured(juce::Graphics& g) const;
    void paintFocus(juce::Graphics& g) const;
    void paintValues(juce::Graphics& g) const;
    void paintAxis(juce::Graphics& g) const;
    void paintMarked(juce::Graphics& g) const;
    [[nodiscard]] float noteSlot() const;
    void paintValue(juce::Graphics& g, float x, const std::optional<double>& value, bool filled) const;
    void paintFault(juce::Graphics& g, float x, float shift) const;
    void paintNames(juce::Graphics& g) const;
    void paintChosen(juce::Graphics& g) const;
    [[nodiscard]] float titleWidth() const;
    void say();

    const NoteMeasure measure;
    GraphModel model;
    bool pitches = false;
    int marked = -1;
    double reach = 50.0;
    PitchNames names;
    int chosen = -1; ///< note indices
    int sounding = -1;
};

} // namespace valveladder
