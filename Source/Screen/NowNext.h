#pragma once

#include "Screen/SaidComponent.h"
#include "View/PlayModel.h"

#include <juce_gui_basics/juce_gui_basics.h>

namespace valveladder {

/// The combination to hold now and the next one, large enough to be read from two metres: figures of a
/// two-hundredth of the distance are read with ease (common practice for signs, no source), these are far
/// larger.
class NowNext final : public SaidComponent {
public:
    NowNext();

    void show(const PlayModel& model, Spelling spelling, bool soundingNames);
    void paint(juce::Graphics& g) override;
    void lookAndFeelChanged() override { repaint(); }

private:
    struct Picture {
        std::shared_ptr<const SessionSetup> setup;
        std::size_t note = 0;
        int countIn = 0;
        int beats = 0;
        Spelling spelling = Spelling::sharps;
        bool soundingNames = false;
        bool operator==(const Picture&) const = default;
    };

    [[nodiscard]] std::string nameOf(const ScoreNote& note) const;
    void paintCard(juce::Graphics& g, juce::Rectangle<float> area, std::size_t note, bool isNow) const;
    void paintWait(juce::Graphics& g, juce::Rectangle<float> area) const;
    [[nodiscard]] float widestName() const;
    [[nodiscard]] juce::String sentence() const;

    Picture picture;
};

} // namespace valveladder
