#include "Plugin/Entry.h"

#include "Plugin/Processor.h"

#include <juce_audio_processors/juce_audio_processors.h>

namespace valveladder {

Processor*& lastMadeHere() noexcept {
    thread_local Processor* last = nullptr;
    return last;
}

} // namespace valveladder

// The one symbol that the plugin wrappers look for.
juce::AudioProcessor* JUCE_CALLTYPE createPluginFilter();

juce::AudioProcessor* JUCE_CALLTYPE createPluginFilter() {
    auto processor = std::make_unique<valveladder::Processor>();
    if (juce::PluginHostType::getPluginLoadedAs() == juce::AudioProcessor::wrapperType_Standalone)
        processor->useJackMidi();
    valveladder::lastMadeHere() = processor.get();
    return processor.release();
}
