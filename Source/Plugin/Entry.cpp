#include "Plugin/Entry.h"

#include "Plugin/Processor.h"

#include <juce_audio_devices/juce_audio_devices.h>
#include <juce_audio_processors/juce_audio_processors.h>
#include <juce_audio_utils/juce_audio_utils.h>

// JUCE's own code is not ours to judge.
#if defined(__GNUC__)
#pragma GCC diagnostic push
#pragma GCC diagnostic ignored "-Wall"
#pragma GCC diagnostic ignored "-Wextra"
#pragma GCC diagnostic ignored "-Wshadow"
#pragma GCC diagnostic ignored "-Wconversion"
#pragma GCC diagnostic ignored "-Wsign-conversion"
#endif
#include <juce_audio_plugin_client/Standalone/juce_StandaloneFilterWindow.h>
#if defined(__GNUC__)
#pragma GCC diagnostic pop
#endif

namespace {

/// The standalone program's sound device; empty in a host, or before its window stands. [message]
std::string soundDevice() {
    auto* holder = juce::StandalonePluginHolder::getInstance();
    auto* device = holder != nullptr ? holder->deviceManager.getCurrentAudioDevice() : nullptr;
    if (device == nullptr)
        return "";
    return (device->getTypeName() + ": " + device->getName()).toStdString();
}

} // namespace

namespace valveladder {

Processor*& lastMadeHere() noexcept {
    thread_local Processor* last = nullptr;
    return last;
}

} // namespace valveladder

// The one symbol that the plugin wrappers look for.
juce::AudioProcessor* JUCE_CALLTYPE createPluginFilter();

juce::AudioProcessor* JUCE_CALLTYPE createPluginFilter() {
    auto processor = std::make_unique<valveladder::Processor>(soundDevice);
    if (juce::PluginHostType::getPluginLoadedAs() == juce::AudioProcessor::wrapperType_Standalone)
        processor->useJackMidi();
    valveladder::lastMadeHere() = processor.get();
    return processor.release();
}
