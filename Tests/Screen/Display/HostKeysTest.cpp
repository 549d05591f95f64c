// In a host, keys of its transport reach the window that ours is embedded in, unless the player wants them
// here.

#include "Screen/Display/EmbeddingHost.h"
#include "Screen/Display/Shown.h"
#include "Screen/Within.h"

#include <gtest/gtest.h>

namespace valveladder {

namespace {

using display::Shown;
constexpr auto vst3 = juce::AudioProcessor::wrapperType_VST3;

} // namespace

TEST(WindowHosts, TransportKeysReachTheHost) {
    display::EmbeddingHost host;
    Shown stage(vst3, {.welcomed = true}, host.window());
    stage.press(juce::KeyPress(juce::KeyPress::spaceKey, juce::ModifierKeys(), ' '));
    EXPECT_EQ(host.nextKey(), "space");
    EXPECT_FALSE(stage.plugin().parameterSet().runOwnClock->get());
    stage.press(juce::KeyPress(juce::KeyPress::homeKey));
    EXPECT_EQ(host.nextKey(), "Home");
    stage.press(juce::KeyPress('r', juce::ModifierKeys(), 'r'));
    EXPECT_EQ(host.nextKey(), "r");
    stage.press(juce::KeyPress('z', juce::ModifierKeys(juce::ModifierKeys::ctrlModifier), 0));
    EXPECT_EQ(host.nextKey(), "Control z");
    // Our own places stay one key away, and are not the host's.
    stage.type('2');
    EXPECT_EQ(stage.window().place(), Window::Place::landing);
    EXPECT_EQ(host.nextKey(), "");
}

TEST(WindowHosts, TransportKeysWorkHereWhereThePlayerAsksForThem) {
    display::EmbeddingHost host;
    Shown stage(vst3, {.ownTransportKeys = true, .welcomed = true}, host.window());
    stage.press(juce::KeyPress(juce::KeyPress::spaceKey, juce::ModifierKeys(), ' '));
    ASSERT_TRUE(eventually([&] {
        stage.pump();
        return stage.plugin().parameterSet().runOwnClock->get();
    }));
    EXPECT_EQ(host.nextKey(), "");
}

TEST(WindowHosts, TheStandaloneHasSpaceForItself) {
    Shown stage;
    stage.press(juce::KeyPress(juce::KeyPress::spaceKey, juce::ModifierKeys(), ' '));
    ASSERT_TRUE(eventually([&] {
        stage.pump();
        return stage.plugin().parameterSet().runOwnClock->get();
    }));
}

} // namespace valveladder
