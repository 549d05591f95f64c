// A host that does not follow a window that grows: the page is scaled into what was given.

#include "Host/TempLog.h"
#include "Screen/Find.h"
#include "Screen/WindowSize.h"
#include "View/Words.h"

#include <cmath>
#include <gtest/gtest.h>

namespace valveladder {

namespace {

/// A plugin in a host's window of a size of its own.
struct Hosted {
    host::TempLog log;
    std::unique_ptr<Processor> plugin;
    juce::Component host;
    std::unique_ptr<Window> window;

    Hosted(int percent, int width, int height) {
        EXPECT_TRUE(writePreferences(preferencesPath(), {.scalePercent = percent, .welcomed = true}));
        juce::AudioProcessor::setTypeOfNextNewPlugin(juce::AudioProcessor::wrapperType_VST3);
        plugin = std::make_unique<Processor>();
        juce::AudioProcessor::setTypeOfNextNewPlugin(juce::AudioProcessor::wrapperType_Undefined);
        host.setSize(width, height);
        window = std::make_unique<Window>(*plugin);
        host.addAndMakeVisible(*window);
    }

    [[nodiscard]] bool holdsTheWindow() const {
        return host.getLocalBounds().expanded(1).contains(window->getBoundsInParent());
    }
    [[nodiscard]] double scale() const { return static_cast<double>(window->getTransform().mat00); }
};

} // namespace

TEST(WindowHosts, APageThatIsNotGivenItsRoomIsScaledIntoWhatThereIs) {
    for (const auto& [percent, width, height] :
         {std::tuple{150, 1280, 800}, std::tuple{200, 1280, 800}, std::tuple{300, 1280, 800},
          std::tuple{100, 800, 500}, std::tuple{125, 1000, 900}}) {
        Hosted stage(percent, width, height);
        ASSERT_TRUE(pump(*stage.window, [&] { return stage.holdsTheWindow(); })) << percent;
        EXPECT_GE(stage.window->getWidth(), WindowSize::leastWidth) << percent;
        EXPECT_GE(stage.window->getHeight(), WindowSize::leastHeight) << percent;
        EXPECT_LE(stage.scale(), percent / 100.0 + 0.01);
        // As large as it can be: one side is filled, or the scale that was asked for is there.
        const auto taken = stage.window->getBoundsInParent();
        EXPECT_TRUE(taken.getWidth() > width - 4 || taken.getHeight() > height - 4) << taken.toString();
    }
}

TEST(WindowHosts, AHostThatFollowsGivesTheScaleThatIsWanted) {
    Hosted stage(150, 1280, 800);
    stage.window->refresh();
    stage.host.setSize(1920, 1200); // what it was asked for, a moment later
    ASSERT_TRUE(pump(*stage.window, [&] { return stage.holdsTheWindow(); }));
    EXPECT_NEAR(stage.scale(), 1.5, 0.01);
}

TEST(WindowHosts, AHostThatGivesMoreRoomLaterIsTakenAtItsWord) {
    Hosted stage(150, 1280, 800);
    ASSERT_TRUE(pump(*stage.window, [&] { return stage.holdsTheWindow(); }));
    ASSERT_LT(stage.scale(), 1.4);
    stage.host.setSize(1920, 1200);
    EXPECT_NEAR(stage.scale(), 1.5, 0.01);
    ASSERT_TRUE(pump(*stage.window, [&] { return stage.holdsTheWindow(); }));
}

} // namespace valveladder
