#pragma once

#include "Screen/SaidComponent.h"
#include "View/StairModel.h"

#include <juce_gui_basics/juce_gui_basics.h>

namespace valveladder {

/// A hand, seen from its back, each finger carrying two dots with whiskers: the median changeover of the
/// changes in which it presses (filled) and in which it releases (open), with the 90 % interval. All fingers
/// share one scale, from the palm up.
class HandView final : public SaidComponent {
public:
    HandView();

    void show(const StairModel& model);
    void paint(juce::Graphics& g) override;
    void lookAndFeelChanged() override { repaint(); }

private:
    [[nodiscard]] juce::Rectangle<float> fingerArea(int finger) const;
    [[nodiscard]] float yOf(double ms) const;
    [[nodiscard]] juce::Rectangle<float> plot() const;
    void paintHand(juce::Graphics& g) const;
    void paintScale(juce::Graphics& g) const;
    void paintWhisker(juce::Graphics& g, const WhiskerModel& whisker) const;

    std::vector<WhiskerModel> whiskers;
    int fingers = 3;
    bool thumb = false;
    double reach = 150.0;
};

/// Changes as rows, the slowest first: median and interval on one scale.
class ChangesView final : public SaidComponent {
public:
    ChangesView();

    void show(const StairModel& model);
    void paint(juce::Graphics& g) override;
    void lookAndFeelChanged() override { repaint(); }

private:
    void paintRow(juce::Graphics& g, const WhiskerModel& whisker, juce::Rectangle<float> row) const;

    std::vector<WhiskerModel> rows;
    double reach = 150.0;
};

} // namespace valveladder
