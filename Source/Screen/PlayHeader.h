#pragma once

#include "Ladder/PitchNames.h"
#include "Screen/SaidComponent.h"
#include "View/PlayModel.h"

#include <juce_gui_basics/juce_gui_basics.h>

namespace valveladder {

/// Over the staff: segment and rung on the left, take and clock (or what stands in the way) in the middle,
/// the tempo on the right; under them how far through the drill one is. Its height never changes.
class PlayHeader final : public SaidComponent {
public:
    PlayHeader();

    void show(const PlayModel& model, const PitchNames& names);
    void paint(juce::Graphics& g) override;
    void lookAndFeelChanged() override { repaint(); }

    static constexpr int height = 100;

private:
    struct Picture {
        std::string rung, segmentName, count, take, clock, tempo, tempoWords;
        int segment = -1;
        int segments = 0;
        int through = 0; ///< of the drill, in thousandths
        bool inTake = false;
        bool tempoDiffers = false;
        Notice notice;
        bool operator==(const Picture&) const = default;
    };

    void paintPlace(juce::Graphics& g, juce::Rectangle<float> area) const;
    void paintCells(juce::Graphics& g, juce::Rectangle<float> area) const;
    void paintTempo(juce::Graphics& g, juce::Rectangle<float> area) const;
    void paintState(juce::Graphics& g, juce::Rectangle<float> area) const;
    void paintNotice(juce::Graphics& g, juce::Rectangle<float> area) const;

    Picture picture;
};

} // namespace valveladder
