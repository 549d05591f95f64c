#pragma once

#include "Plugin/AudioPath.h"
#include "Session/SessionView.h"

#include <juce_gui_basics/juce_gui_basics.h>

#include <memory>
#include <optional>

namespace valveladder {

/// While playing: rung, segment, combination now and next, the valves as lamps, tempo planned and real, take
/// state.
class NowPanel final : public juce::Component {
public:
    NowPanel();

    /// [message] Called by the window's timer; repaints only when something shown has changed.
    void show(std::shared_ptr<const SessionView> view, const ClockView& clock, bool repeat);

    void paint(juce::Graphics& g) override;

private:
    /// What the picture depends on.
    struct Picture {
        std::size_t note = 0;
        bool inside = false;
        int countInBeat = 0; ///< 1.. while counting in, else 0
        std::string tempo;
        std::string clock;
        std::string take;
        std::string mismatch;
        bool operator==(const Picture&) const = default;
    };

    void paintPlace(juce::Graphics& g, juce::Rectangle<int> area) const;
    void paintCombinations(juce::Graphics& g, juce::Rectangle<int> area) const;
    void paintValves(juce::Graphics& g, juce::Rectangle<int> area, Combination pressed, float alpha) const;
    void paintLines(juce::Graphics& g, juce::Rectangle<int> area) const;

    std::shared_ptr<const SessionView> shown;
    Picture picture;
};

} // namespace valveladder
