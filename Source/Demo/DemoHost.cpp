#include "Demo/DemoHost.h"

#include "Base/Path.h"
#include "Tempo/SampleTime.h"

#include <algorithm>
#include <cmath>

namespace valveladder {

namespace {

constexpr int blockSamples = 256;
/// Rolled on after the last note, and stood still after a take, so that late note-offs arrive.
constexpr int blocksAfterTake = 200;

/// What JUCE opens: the bundle, but for Windows the module in it (Steinberg, VST 3 Developer Portal, "VST 3
/// Plug-in Format Structure").
std::filesystem::path moduleOf(const std::filesystem::path& bundle) {
    const auto name = bundle.has_filename() ? bundle.filename() : bundle.parent_path().filename();
    auto module = bundle / "Contents" / "x86_64-win" / name;
    std::error_code error;
    return std::filesystem::is_regular_file(module, error) ? module : bundle;
}

} // namespace

struct DemoHost::PlayHead final : juce::AudioPlayHead {
    juce::Optional<PositionInfo> getPosition() const override { return position; }
    PositionInfo position;
};

DemoHost::DemoHost(std::unique_ptr<juce::AudioPluginInstance> instance)
    : plugin(std::move(instance)), playHead(std::make_unique<PlayHead>()) {
    plugin->setPlayHead(playHead.get());
    plugin->setNonRealtime(true);
    plugin->setRateAndBufferSizeDetails(sampleRate, blockSamples);
    plugin->prepareToPlay(sampleRate, blockSamples);
    audio.setSize(std::max(plugin->getTotalNumInputChannels(), plugin->getTotalNumOutputChannels()),
                  blockSamples);
}

DemoHost::~DemoHost() {
    plugin->releaseResources();
    plugin->setPlayHead(nullptr);
}

Result<std::unique_ptr<DemoHost>> DemoHost::load(const std::filesystem::path& vst3) {
    juce::VST3PluginFormat format;
    juce::OwnedArray<juce::PluginDescription> found;
    format.findAllTypesForFile(
        found, juce::String::fromUTF8(pathText(std::filesystem::absolute(moduleOf(vst3))).c_str()));
    if (found.isEmpty())
        return Problem{"no VST3 plugin was found", pathText(vst3), "build the target ValveLadder_VST3 first"};
    juce::String words;
    auto instance = format.createInstanceFromDescription(*found[0], sampleRate, blockSamples, words);
    if (instance == nullptr)
        return Problem{"the plugin could not be loaded: " + words.toStdString(), pathText(vst3),
                       "build it again for this machine"};
    return std::unique_ptr<DemoHost>(new DemoHost(std::move(instance)));
}

std::string DemoHost::name() const {
    return plugin->getName().toStdString();
}

void DemoHost::setState(const std::string& stateText) {
    // JUCE keeps a VST3's state as XML in which the component's own bytes stand in base 64.
    juce::XmlElement xml("VST3PluginState");
    const juce::MemoryBlock bytes(stateText.data(), stateText.size());
    xml.createNewChildElement("IComponent")->addTextElement(bytes.toBase64Encoding());
    juce::MemoryBlock block;
    juce::AudioProcessor::copyXmlToBinary(xml, block);
    plugin->setStateInformation(block.getData(), static_cast<int>(block.getSize()));
}

int DemoHost::run(const juce::MidiBuffer& midi, std::span<const float> sound) {
    audio.clear();
    for (int channel = 0; channel < plugin->getTotalNumInputChannels() && !sound.empty(); ++channel)
        audio.copyFrom(channel, 0, sound.data(), std::min(blockSamples, static_cast<int>(sound.size())));
    exchange.clear();
    exchange.addEvents(midi, 0, blockSamples, 0);
    plugin->processBlock(audio, exchange);
    int notes = 0;
    for (const auto message : exchange)
        if (message.getMessage().isNoteOn() && message.getMessage().getChannel() == 1)
            ++notes;
    return notes;
}

int DemoHost::recordTake(double bpm, double quarters, std::span<const PlayedMessage> played,
                         std::span<const float> sound) {
    const double quarterSamples = samplesPerQuarter(bpm, sampleRate);
    const auto samples = static_cast<std::int64_t>(std::ceil(quarters * quarterSamples));
    auto& position = playHead->position;
    position.setBpm(bpm);
    position.setTimeSignature(juce::AudioPlayHead::TimeSignature{4, 4});
    position.setIsPlaying(true);
    position.setIsRecording(true);
    int guideNotes = 0;
    std::size_t next = 0;
    for (std::int64_t at = 0; at < samples; at += blockSamples) {
        position.setPpqPosition(static_cast<double>(at) / quarterSamples);
        position.setTimeInSamples(at);
        juce::MidiBuffer midi;
        for (; next < played.size(); ++next) {
            const auto sample = std::llround(played[next].quarter * quarterSamples) - at;
            if (sample >= blockSamples)
                break;
            const auto& event = played[next].event;
            midi.addEvent(event.bytes.data(), event.size, static_cast<int>(std::max<long long>(0, sample)));
        }
        guideNotes += run(midi, sound.subspan(std::min(sound.size(), static_cast<std::size_t>(at))));
    }
    position.setIsPlaying(false);
    position.setIsRecording(false);
    for (int i = 0; i < blocksAfterTake; ++i)
        guideNotes += run({});
    return guideNotes;
}

} // namespace valveladder
