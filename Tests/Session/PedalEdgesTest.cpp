#include "Session/PedalPresses.h"

#include <gtest/gtest.h>

#include <random>

namespace valveladder {

namespace {

MidiEvent controller(int number, int value, int channel = 1) {
    MidiEvent event;
    event.bytes = {static_cast<std::uint8_t>(0xB0 | (channel - 1)), static_cast<std::uint8_t>(number),
                   static_cast<std::uint8_t>(value)};
    return event;
}

int presses(const std::vector<int>& values) {
    PedalPresses pedal;
    int count = 0;
    for (const int value : values)
        count += pedal.press(controller(64, value)) ? 1 : 0;
    return count;
}

} // namespace

TEST(PedalEdges, SwitchPedalCountsOncePerPress) {
    EXPECT_EQ(presses({127}), 1);
    EXPECT_EQ(presses({127, 0, 127, 0, 127}), 3);
    EXPECT_EQ(presses({64, 63}), 1) << "MIDI 1.0: 64 and over is on";
    EXPECT_EQ(presses({63, 0, 63}), 0);
}

TEST(PedalEdges, ContinuousPedalCountsOnceOnItsWay) {
    std::vector<int> down;
    for (int value = 0; value <= 127; ++value)
        down.push_back(value);
    EXPECT_EQ(presses(down), 1);
    std::vector<int> upAndDown = down;
    for (int value = 127; value >= 0; --value)
        upAndDown.push_back(value);
    upAndDown.insert(upAndDown.end(), down.begin(), down.end());
    EXPECT_EQ(presses(upAndDown), 2);
}

TEST(PedalEdges, TrembleAtTheMiddleCountsOnce) {
    EXPECT_EQ(presses({60, 64, 63, 65, 62, 66, 61, 64, 58, 67, 127}), 1);
    EXPECT_EQ(presses({64, 49, 64, 50, 100}), 1);
    EXPECT_EQ(presses({64, 48, 64}), 2) << "come back";
    // A foot that rests on the pedal, with up to 7 steps of noise of a cheap converter either way.
    std::mt19937 random(11);
    std::uniform_int_distribution<int> noise(-7, 7);
    std::vector<int> held;
    for (int i = 0; i < 5000; ++i)
        held.push_back(64 + noise(random));
    EXPECT_EQ(presses(held), 1);
}

TEST(PedalEdges, ControllersAndChannelsAreApart) {
    PedalPresses pedal;
    EXPECT_TRUE(pedal.press(controller(64, 127, 1)));
    EXPECT_TRUE(pedal.press(controller(64, 127, 2)));
    EXPECT_TRUE(pedal.press(controller(67, 127, 1)));
    EXPECT_FALSE(pedal.press(controller(64, 127, 1)));
}

TEST(PedalEdges, EveryNoteOnIsAPress) {
    PedalPresses pedal;
    MidiEvent note;
    note.bytes = {0x90, 36, 100};
    EXPECT_TRUE(pedal.press(note));
    EXPECT_TRUE(pedal.press(note));
    note.bytes = {0x90, 36, 0};
    EXPECT_FALSE(pedal.press(note));
    note.bytes = {0x80, 36, 64};
    EXPECT_FALSE(pedal.press(note));
}

} // namespace valveladder
