#pragma once

#include "Host/TempLog.h"
#include "Screen/Window.h"

#include <memory>

namespace valveladder::display {

/// The window of a plugin on the display, as the top window of a program, with real focus.
class Shown {
public:
    explicit Shown(juce::AudioProcessor::WrapperType type = juce::AudioProcessor::wrapperType_Standalone,
                   const Preferences& preferences = {.welcomed = true}, void* embedder = nullptr);
    ~Shown();

    [[nodiscard]] Window& window() { return *shown; }
    [[nodiscard]] Processor& plugin() { return *processor; }

    /// Everything that waits to be done is done, and a frame goes by.
    void pump();
    void press(const juce::KeyPress& key);
    void type(char letter);
    /// Coordinates of the window.
    void click(juce::Point<int> point);
    [[nodiscard]] static juce::Component* focused() {
        return juce::Component::getCurrentlyFocusedComponent();
    }

private:
    host::TempLog log;
    std::unique_ptr<Processor> processor;
    std::unique_ptr<Window> shown;
    std::unique_ptr<juce::DocumentWindow> frame; ///< absent where it is embedded
};

} // namespace valveladder::display
