#pragma once

#include "Screen/WindowPlace.h"

#include <juce_gui_basics/juce_gui_basics.h>

#include <array>
#include <functional>
#include <string>

namespace valveladder {

/// Along the head of the window: the way to each place, who plays, and the place as a picture.
class WindowBar final : public juce::Component {
public:
    WindowBar();

    std::function<void(WindowPlace)> onPlace;
    std::function<void()> onExport, onBackToOwn;

    void showPlace(WindowPlace shown);
    void showPlayer(const std::string& name, const std::string& instrumentName);
    /// The way back from an invented player.
    void showBackToOwn(bool wanted);
    void pressExport() { exportButton.triggerClick(); }

    void resized() override;
    static constexpr int height = 56;

private:
    void buildTabs();
    void namePlayer();

    std::array<juce::TextButton, 5> tabs; ///< the last is the set-up's
    juce::TextButton exportButton, backToOwn;
    juce::Label whoPlays;
    std::string player, instrument;
};

} // namespace valveladder
