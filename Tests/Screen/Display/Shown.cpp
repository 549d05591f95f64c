#include "Screen/Display/Shown.h"

#include "Host/MessageQueue.h"
#include "Screen/Within.h"

#include <gtest/gtest.h>

namespace valveladder::display {

namespace {

constexpr double rate = 48000.0;
constexpr int blockSamples = 480;

std::unique_ptr<Processor> made(juce::AudioProcessor::WrapperType type) {
    juce::AudioProcessor::setTypeOfNextNewPlugin(type);
    auto plugin = std::make_unique<Processor>();
    juce::AudioProcessor::setTypeOfNextNewPlugin(juce::AudioProcessor::wrapperType_Undefined);
    return plugin;
}

} // namespace

Shown::Shown(juce::AudioProcessor::WrapperType type, const Preferences& preferences, void* embedder) {
    EXPECT_TRUE(writePreferences(preferencesPath(), preferences));
    processor = made(type);
    processor->setRateAndBufferSizeDetails(rate, blockSamples);
    processor->prepareToPlay(rate, blockSamples);
    shown = std::make_unique<Window>(*processor);
    if (embedder != nullptr) {
        shown->setTopLeftPosition(0, 0);
        shown->addToDesktop(0, embedder);
        shown->setVisible(true);
    } else {
        frame = std::make_unique<juce::DocumentWindow>("Valve Ladder", juce::Colours::black,
                                                       juce::DocumentWindow::closeButton);
        frame->setUsingNativeTitleBar(true);
        frame->setContentNonOwned(shown.get(), true);
        frame->setTopLeftPosition(0, 0);
        frame->setVisible(true);
        // The display gives the keys to a window that it shows: before that no component can have them.
        EXPECT_TRUE(eventually([&] {
            frame->toFront(true);
            pump();
            return frame->getPeer()->isFocused();
        }));
    }
    pump();
}

Shown::~Shown() {
    frame.reset();
    shown.reset();
    processor->releaseResources();
}

void Shown::pump() {
    while (juce::dispatchNextMessageOnSystemQueue(true)) {
    }
    shown->refresh();
}

void Shown::press(const juce::KeyPress& key) {
    shown->getPeer()->handleKeyPress(key);
    pump();
}

void Shown::type(char letter) {
    press(juce::KeyPress(letter, juce::ModifierKeys(), static_cast<juce::juce_wchar>(letter)));
}

void Shown::click(juce::Point<int> point) {
    auto* peer = shown->getPeer();
    const auto place = peer->getComponent().getLocalPoint(shown.get(), point).toFloat();
    constexpr auto mouse = juce::MouseInputSource::InputSourceType::mouse;
    for (const int buttons : {0, static_cast<int>(juce::ModifierKeys::leftButtonModifier), 0})
        peer->handleMouseEvent(mouse, place, juce::ModifierKeys(buttons), 0.0F, 0.0F,
                               juce::Time::currentTimeMillis());
    pump();
}

} // namespace valveladder::display
