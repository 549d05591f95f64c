#pragma once

#include "Screen/SaidComponent.h"
#include "View/StairModel.h"

#include <juce_gui_basics/juce_gui_basics.h>

namespace valveladder {

/// A hand on its valves: a finger whose changes are slow lies lit on a valve that is down. Under each valve
/// two dots with whiskers: the median changeover of the changes in which the finger presses (filled) and in
/// which it releases (open), with the 90 % interval, all on one scale.
class HandView final : public SaidComponent {
public:
    HandView();

    void show(const StairModel& model);
    void paint(juce::Graphics& g) override;
    void lookAndFeelChanged() override { repaint(); }

private:
    /// A valve and the finger on it, from the left.
    struct Column {
        int finger = 0; ///< as in the model: 4 is the thumb where it has a valve
        juce::String number;
        bool slow = false;
    };
    struct Limb {
        juce::Path path;
        juce::Point<float> tip;
        bool slow = false;
    };
    [[nodiscard]] std::vector<Limb> limbs() const; ///< fingers, and the thumb where it has a valve
    [[nodiscard]] juce::Path backOfHand() const;
    [[nodiscard]] int places() const; ///< valves, and the little finger's where it has none
    [[nodiscard]] float slot() const;
    [[nodiscard]] float middleOf(int place) const;
    [[nodiscard]] juce::Rectangle<float> figure() const;
    [[nodiscard]] juce::Rectangle<float> valveAt(int place) const; ///< when it is up
    [[nodiscard]] juce::Rectangle<float> plot() const;
    [[nodiscard]] float yOf(double ms) const;
    [[nodiscard]] bool slowAt(int place) const;
    void paintValves(juce::Graphics& g) const;
    void paintNumbers(juce::Graphics& g) const;
    void paintHand(juce::Graphics& g) const;
    void paintScale(juce::Graphics& g) const;
    void paintLegend(juce::Graphics& g) const;
    void paintWhisker(juce::Graphics& g, const WhiskerModel& whisker) const;

    std::vector<WhiskerModel> whiskers;
    std::vector<Column> columns;
    double reach = 150.0; ///< of the scale, ms
};

/// Changes as rows, the slowest first: median and interval on one scale.
class ChangesView final : public SaidComponent {
public:
    ChangesView();

    void show(const StairModel& model);
    /// As many of the slowest as are drawn in the room that there is.
    [[nodiscard]] int rowsShown() const;
    void paint(juce::Graphics& g) override;
    void lookAndFeelChanged() override { repaint(); }

private:
    void paintRow(juce::Graphics& g, const WhiskerModel& whisker, juce::Rectangle<float> row) const;

    std::vector<WhiskerModel> rows;
    double reach = 150.0;
};

} // namespace valveladder
