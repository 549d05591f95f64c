#pragma once

#include "Screen/ChoiceBox.h"

#include <juce_gui_basics/juce_gui_basics.h>

#include <functional>

namespace valveladder {

/// The kept sound of takes: play and stop, how fast, and what is going on.
class PlayStrip final : public juce::Component {
public:
    PlayStrip();

    /// What is being played, or why nothing is.
    void show(const juce::String& text, bool playing);
    /// Whether there is something to be heard; else the button is off.
    void offer(bool something);
    [[nodiscard]] double slowness() const; ///< 1..4 times as long
    std::function<void()> onPlay; ///< from the chosen note; also when the speed changed while playing
    std::function<void()> onStop;
    void toggle();

    void resized() override;
    static constexpr int height = 92;

private:
    juce::TextButton play;
    ChoiceBox speed;
    juce::Label state;
    bool running = false;
};

} // namespace valveladder
