#pragma once

#include "Screen/SaidComponent.h"
#include "View/StairModel.h"

namespace valveladder {

/// The hand as its valves: how long each finger takes to press, the slow one lit and down.
class FingerCaps final : public SaidComponent {
public:
    FingerCaps();

    void show(const StairModel& model);
    [[nodiscard]] bool empty() const { return fingers.empty(); }
    void paint(juce::Graphics& g) override;
    void lookAndFeelChanged() override { repaint(); }

    [[nodiscard]] int widthFor(int height) const;

private:
    struct Finger {
        juce::String number;
        juce::String ms; ///< the slower of pressing and releasing; empty = not measured
        bool slow = false;
    };
    std::vector<Finger> fingers;
};

} // namespace valveladder
