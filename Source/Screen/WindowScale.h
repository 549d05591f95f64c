#pragma once

#include "Screen/WindowSize.h"

#include <juce_audio_processors/juce_audio_processors.h>

#include <optional>

namespace valveladder {

/// Size and scale of the window: what its display has room for, and less in a host that gives it less than it
/// asks for.
class WindowScale {
public:
    WindowScale(juce::AudioProcessorEditor& of, bool hosted) : window(of), inHost(hosted) {}

    /// What the display that the window is on has room for; without a display the usual size.
    [[nodiscard]] WindowSize roomFor(int percent) const;
    /// Takes the scale that is wanted, or what of it there is room for.
    void want(int percent);
    /// Once a frame. Some hosts do not follow a window that grows: what they do not give is not asked for
    /// twice.
    void fitIntoHost();
    /// A host that gives more room gets the scale that is wanted.
    void hostResized();

private:
    [[nodiscard]] bool standsOutOfItsHost() const;
    void take(const FittedSize& size);

    juce::AudioProcessorEditor& window;
    const bool inHost;
    int percentInUse = 0;                 ///< of the scale that was asked of the host
    double scaleTaken = 1.0;              ///< less where the host did not follow
    std::optional<double> standsOutSince; ///< seconds
};

} // namespace valveladder
