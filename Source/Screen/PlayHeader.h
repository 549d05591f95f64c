#pragma once

#include "Ladder/RungName.h"
#include "Screen/SaidComponent.h"
#include "View/PlayModel.h"

#include <juce_gui_basics/juce_gui_basics.h>

namespace valveladder {

/// Over the staff: rung and segment on the left, take and tempo on the right; a notice when there is one.
class PlayHeader final : public SaidComponent {
public:
    PlayHeader();

    void show(const PlayModel& model, const PitchNames& names);
    void paint(juce::Graphics& g) override;
    void lookAndFeelChanged() override { repaint(); }

private:
    struct Picture {
        std::string rung, segmentName, segmentOf, take, clock, planned, real;
        int segment = -1;
        int segments = 0;
        bool inTake = false;
        bool tempoDiffers = false;
        Notice notice;
        bool operator==(const Picture&) const = default;
    };

    void paintPlace(juce::Graphics& g, juce::Rectangle<float> area) const;
    void paintCells(juce::Graphics& g, juce::Rectangle<float> area) const;
    void paintTempo(juce::Graphics& g, juce::Rectangle<float> area) const;
    void paintTake(juce::Graphics& g, juce::Rectangle<float> area) const;
    void paintNotice(juce::Graphics& g, juce::Rectangle<float> area) const;

    Picture picture;
};

} // namespace valveladder
