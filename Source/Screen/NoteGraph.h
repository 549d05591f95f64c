#pragma once

#include "Screen/TakeModel.h"

#include <juce_gui_basics/juce_gui_basics.h>

#include <optional>
#include <vector>

namespace valveladder {

enum class NoteMeasure { deviation, changeover, intonation };

/// One measure over the notes of a rung, all segments side by side, so that several such graphs share their
/// axis. Two takes may be laid over one another: the first is filled, the second open. Values beyond the axis
/// stand at its end, pointed.
class NoteGraph final : public juce::Component {
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
    void setNames(Spelling newSpelling) {
        spelling = newSpelling;
        repaint();
    }
    void showPitches(bool wanted) { pitches = wanted; }

    void paint(juce::Graphics& g) override;
    void mouseDown(const juce::MouseEvent& event) override;
    void lookAndFeelChanged() override { repaint(); }

private:
    struct Point {
        int index = 0;
        int segment = 0;
        MidiNote written = 60;
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
    void say();

    NoteMeasure measure;
    std::vector<Point> points;
    std::vector<std::string> segmentNames;
    bool twoTakes = false;
    juce::String notMeasured; ///< why there is nothing to show
    bool pitches = false;
    int marked = -1;
    double reach = 50.0;
    Spelling spelling = Spelling::sharps;
};

} // namespace valveladder
