#pragma once

#include "Screen/RungName.h"
#include "Screen/SaidComponent.h"
#include "Screen/TakeModel.h"

#include <juce_gui_basics/juce_gui_basics.h>

#include <optional>
#include <vector>

namespace valveladder {

/// One measure over the notes of a rung, all segments side by side, so that several such graphs share their
/// axis. Two takes may be laid over one another: the first is filled, the second open. Values beyond the axis
/// stand at its end, pointed.
class NoteGraph final : public SaidComponent {
public:
    explicit NoteGraph(NoteMeasure shownMeasure);

    /// `second` may be null. `rung` of both; `segment` is marked.
    void show(const TakeModel* first, const TakeModel* second, int rung, int segment);
    /// Half the axis for deviations and cents, all of it for changeovers; the same for graphs to be compared.
    void setReach(double newReach);
    [[nodiscard]] static double reachFor(NoteMeasure measure, const TakeModel* first,
                                         const TakeModel* second);
    /// A note was clicked, or chosen by Return.
    std::function<void(int noteIndex)> onNote;
    /// Another note was chosen by the keyboard or the mouse.
    std::function<void(int noteIndex)> onChosen;
    /// Marks the note that is chosen; -1 = none.
    void setChosen(int noteIndex);
    /// Marks the note that is being played, of the first or second take; -1 = none.
    void setSounding(int noteIndex);
    void setNames(const PitchNames& wanted);
    [[nodiscard]] NoteMeasure shows() const { return measure; }
    void showPitches(bool wanted);
    /// False when the take shown holds nothing of this measure: one line, `lineHeight` high, says why.
    [[nodiscard]] bool measured() const { return notMeasured.isEmpty(); }
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
    struct Point {
        int index = 0;
        int segment = 0;
        MidiNote written = 60;
        MidiNote sounding = 60;
        std::string combination;
        std::optional<double> first, second;
        bool firstFault = false, secondFault = false;
        Outcome outcome = Outcome::right;
    };

    [[nodiscard]] std::optional<double> valueOf(const NoteModel& note) const;
    [[nodiscard]] juce::Rectangle<float> plot() const;
    [[nodiscard]] float xOf(std::size_t point) const;
    [[nodiscard]] float yOf(double value) const;
    void paintAxis(juce::Graphics& g) const;
    void paintMarked(juce::Graphics& g) const;
    [[nodiscard]] float noteSlot() const;
    void paintValue(juce::Graphics& g, float x, const std::optional<double>& value, bool filled) const;
    void paintFault(juce::Graphics& g, float x, float shift) const;
    void paintNames(juce::Graphics& g) const;
    void paintChosen(juce::Graphics& g) const;
    [[nodiscard]] std::optional<std::size_t> pointOf(int noteIndex) const;
    [[nodiscard]] std::string nameOf(const Point& point) const;
    [[nodiscard]] std::string wordsOf(const Point& point) const;
    void say();

    NoteMeasure measure;
    std::vector<Point> points;
    std::vector<std::string> segmentNames;
    bool twoTakes = false;
    juce::String notMeasured; ///< why there is nothing to show
    bool pitches = false;
    int marked = -1;
    double reach = 50.0;
    PitchNames names;
    int chosen = -1; ///< note indices
    int sounding = -1;
};

} // namespace valveladder
