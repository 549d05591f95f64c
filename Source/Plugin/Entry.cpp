#include "Plugin/Processor.h"

#include <juce_audio_processors/juce_audio_processors.h>

// The one symbol that the plugin wrappers look for.
juce::AudioProcessor* JUCE_CALLTYPE createPluginFilter();

juce::AudioProcessor* JUCE_CALLTYPE createPluginFilter() {
    return new valveladder::Processor();
}
