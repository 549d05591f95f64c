#pragma once

#include "Screen/SaidComponent.h"
#include "View/WorkProgress.h"

#include <vector>

namespace valveladder {

/// One line for work that lasts: words, a bar, and Stop. Appears when the work has lasted a moment, so that
/// quick work does not flicker.
class WorkStrip final : public juce::Component {
public:
    WorkStrip();

    /// The work that may run; the first that does is shown.
    void watch(std::vector<WorkProgress> all) { works = std::move(all); }
    /// To be called as often as the window is refreshed. Returns whether the strip is shown.
    bool refresh(double nowSeconds);

    void resized() override;
    void lookAndFeelChanged() override { repaint(); }

    static constexpr double quickSeconds = 0.4;

private:
    class Bar final : public SaidComponent {
    public:
        void show(const std::string& text, std::optional<double> share, double nowSeconds);
        void paint(juce::Graphics& g) override;

    private:
        std::string what;
        std::optional<double> share;
        double phase = 0.0; ///< 0..1, where the share is not known
    };
    [[nodiscard]] const WorkProgress* current() const;

    std::vector<WorkProgress> works;
    std::optional<double> since;
    Bar bar;
    juce::TextButton stopButton;
};

} // namespace valveladder
