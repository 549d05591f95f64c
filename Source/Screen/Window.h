#pragma once

#include "Plugin/Processor.h"
#include "Screen/MessagesPanel.h"
#include "Screen/NowPanel.h"
#include "Screen/SetupPanel.h"
#include "Screen/TodayPanel.h"

#include <juce_audio_processors/juce_audio_processors.h>

namespace valveladder {

/// The plugin's window: set up, start, see where the drill stands, takes of today, messages.
class Window final : public juce::AudioProcessorEditor, private juce::Timer {
public:
    explicit Window(Processor& plugin);
    ~Window() override;

    void paint(juce::Graphics& g) override;
    void resized() override;
    bool keyPressed(const juce::KeyPress& key) override;

private:
    void timerCallback() override;
    void take(SessionConfig config);
    void say(const Problem& problem);
    void writeNote(const TakeSummary& take);
    void toggleSetup();

    Processor& owner;
    juce::LookAndFeel_V4 look;
    SessionConfig shownConfig;
    juce::String ownMessage;

    juce::ToggleButton runClock{"Own clock (space)"};
    juce::TextButton takeButton{"Take (T)"};
    juce::TextButton setupButton{"Set-up (S)"};
    juce::ButtonParameterAttachment clockAttachment;
    NowPanel now;
    SetupPanel setup;
    TodayPanel today;
    MessagesPanel messages;
    std::unique_ptr<juce::AlertWindow> noteWindow;
    bool setupShown = true;
};

} // namespace valveladder
