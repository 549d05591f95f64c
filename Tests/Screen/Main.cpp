#include <gtest/gtest.h>

#include <juce_events/juce_events.h>

// JUCE's message thread must live as long as any plugin does.
int main(int argc, char** argv) {
    testing::InitGoogleTest(&argc, argv);
    const juce::ScopedJuceInitialiser_GUI juceLife;
    return RUN_ALL_TESTS();
}
