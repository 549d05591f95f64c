#pragma once

#include "Screen/SaidComponent.h"
#include "View/StairModel.h"

#include <juce_gui_basics/juce_gui_basics.h>

namespace valveladder {

/// Tempo over days: the plan as a stair, what was played as bars from the slowest to the fastest take, the
/// fastest passed one as a dot; under it, on the same axis, the days practised.
class TempoStair final : public SaidComponent {
public:
    TempoStair();

    void show(const StairModel& model);
    void paint(juce::Graphics& g) override;
    void lookAndFeelChanged() override { repaint(); }

private:
    [[nodiscard]] juce::Rectangle<float> plot() const;
    [[nodiscard]] float xOf(std::int64_t day) const;
    [[nodiscard]] float yOf(double bpm) const;
    [[nodiscard]] float dayWidth() const;
    void findRange();
    void paintAxes(juce::Graphics& g) const;
    void paintPlan(juce::Graphics& g) const;
    void paintPlayed(juce::Graphics& g) const;
    void paintDays(juce::Graphics& g) const;
    void paintLegend(juce::Graphics& g) const;

    std::vector<PlanDay> days;
    std::vector<std::int64_t> missed;
    double low = 50.0;
    double high = 80.0;
};

} // namespace valveladder
