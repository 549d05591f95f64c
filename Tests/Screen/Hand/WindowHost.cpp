// A host with a window for tests by hand: shows the plugin's window, runs its audio in real
// time, and plays back to it by MIDI whatever its guide plays, as a player who is never wrong, and says
// "note" for each. No transport: the plugin's own clock leads.
//   valveladder_window_host SECONDS

#include "Plugin/Processor.h"

#include <juce_audio_processors/juce_audio_processors.h>

#include <atomic>
#include <chrono>
#include <cstdlib>
#include <iostream>
#include <thread>

namespace valveladder {

namespace {

constexpr double rate = 48000.0;
constexpr int blockSamples = 480;
constexpr int guideChannel = 1;
constexpr int playerChannel = 2;
constexpr float playerVelocity = 0.5F;

/// Keeps real time; what the guide plays in one block is played back in the next, 10 ms late.
class Player {
public:
    explicit Player(Processor& hosted)
        : plugin(hosted), thread([this](const std::stop_token& stop) { run(stop); }) {}

private:
    void run(const std::stop_token& stop) {
        juce::AudioBuffer<float> audio(2, blockSamples);
        auto next = std::chrono::steady_clock::now();
        juce::MidiBuffer echo;
        while (!stop.stop_requested()) {
            audio.clear();
            juce::MidiBuffer midi(echo);
            plugin.processBlock(audio, midi);
            echo.clear();
            for (const auto message : midi)
                if (auto played = message.getMessage();
                    played.isNoteOnOrOff() && played.getChannel() == guideChannel) {
                    played.setChannel(playerChannel);
                    played.setVelocity(playerVelocity); // else it would be taken for the guide coming back
                    echo.addEvent(played, message.samplePosition);
                    if (played.isNoteOn())
                        std::cout << "note" << std::endl;
                }
            next += std::chrono::microseconds(static_cast<int>(1e6 * blockSamples / rate));
            std::this_thread::sleep_until(next);
        }
    }

    Processor& plugin;
    std::jthread thread;
};

class HostWindow final : public juce::DocumentWindow {
public:
    explicit HostWindow(juce::AudioProcessorEditor& editor)
        : DocumentWindow("Window host", juce::Colours::black, allButtons) {
        setUsingNativeTitleBar(true);
        setContentNonOwned(&editor, true);
        setResizable(true, false);
        setTopLeftPosition(0, 0);
        setVisible(true);
        editor.grabKeyboardFocus();
    }
    void closeButtonPressed() override { juce::MessageManager::getInstance()->stopDispatchLoop(); }
};

class Quit final : private juce::Timer {
public:
    explicit Quit(double seconds) { startTimer(juce::roundToInt(seconds * 1000.0)); }

private:
    void timerCallback() override { juce::MessageManager::getInstance()->stopDispatchLoop(); }
};

int run(double seconds) {
    const juce::ScopedJuceInitialiser_GUI juceLife;
    Processor plugin;
    plugin.setRateAndBufferSizeDetails(rate, blockSamples);
    plugin.prepareToPlay(rate, blockSamples);
    {
        const std::unique_ptr<juce::AudioProcessorEditor> editor(plugin.createEditor());
        HostWindow window(*editor);
        const Quit quit(seconds);
        const Player player(plugin);
        std::cout << "ready" << std::endl;
        juce::MessageManager::getInstance()->runDispatchLoop();
    }
    plugin.releaseResources();
    return 0;
}

} // namespace

} // namespace valveladder

int main(int argc, char** argv) {
    if (argc != 2)
        return 2;
    return valveladder::run(std::atof(argv[1]));
}
