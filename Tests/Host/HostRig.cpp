#include "Host/HostRig.h"

#include <algorithm>
#include <cmath>

namespace valveladder::host {

namespace {

juce::AudioPlayHead::PositionInfo positionOf(const HostRig& rig, std::int64_t frame) {
    juce::AudioPlayHead::PositionInfo info;
    info.setIsPlaying(rig.playing);
    info.setIsRecording(rig.recording);
    info.setPpqPosition(rig.ticksPerQuarter > 0.0
                            ? std::round(rig.ppq * rig.ticksPerQuarter) / rig.ticksPerQuarter
                            : rig.ppq);
    info.setBpm(rig.toldBpm.value_or(rig.bpm));
    info.setTimeSignature(juce::AudioPlayHead::TimeSignature{rig.meterBeats, rig.meterUnit});
    info.setTimeInSamples(frame);
    info.setTimeInSeconds(static_cast<double>(frame) / rig.sampleRate());
    return info;
}

std::unique_ptr<juce::AudioPluginFormat> formatOf(Format format) {
    if (format == Format::vst3)
        return std::make_unique<juce::VST3PluginFormat>();
    return std::make_unique<juce::LV2PluginFormat>();
}

} // namespace

struct HostRig::PlayHead final : juce::AudioPlayHead {
    explicit PlayHead(const HostRig& owner) : rig(owner) {}
    juce::Optional<PositionInfo> getPosition() const override {
        if (rig.inPlayHead)
            rig.inPlayHead();
        if (!rig.positionTold)
            return juce::nullopt;
        return positionOf(rig, std::llround(frame));
    }
    const HostRig& rig;
    double frame = 0.0;
};

std::filesystem::path builtPlugin(Format format) {
    const std::filesystem::path products = VALVE_LADDER_PRODUCTS;
    return format == Format::vst3 ? products / "VST3" / "Valve Ladder.vst3"
                                  : products / "LV2" / "Valve Ladder.lv2";
}

HostRig::HostRig(std::unique_ptr<juce::AudioProcessor> hosted, double sampleRate, int maxSamples)
    : processor(std::move(hosted)), playHead(std::make_unique<PlayHead>(*this)), rate(sampleRate) {
    processor->setPlayHead(playHead.get());
    processor->setRateAndBufferSizeDetails(rate, maxSamples);
    processor->prepareToPlay(rate, maxSamples);
}

HostRig::~HostRig() {
    processor->releaseResources();
    processor->setPlayHead(nullptr);
}

std::unique_ptr<HostRig> HostRig::load(Format which, double sampleRate, int maxSamples, std::string& error) {
    const auto format = formatOf(which);
    juce::OwnedArray<juce::PluginDescription> found;
    const juce::String name = which == Format::vst3 ? juce::String(builtPlugin(which).string())
                                                    : juce::String("urn:valveladder:valve-ladder");
    // LV2 knows plugins by URI: its world must have seen the folder first.
    format->searchPathsForPlugins(
        juce::FileSearchPath(juce::String(builtPlugin(which).parent_path().string())), false, false);
    format->findAllTypesForFile(found, name);
    if (found.isEmpty()) {
        error = "no plugin was found in " + builtPlugin(which).string();
        return nullptr;
    }
    juce::String words;
    auto instance = format->createInstanceFromDescription(*found[0], sampleRate, maxSamples, words);
    error = words.toStdString();
    if (instance == nullptr)
        return nullptr;
    return std::make_unique<HostRig>(std::move(instance), sampleRate, maxSamples);
}

void HostRig::run(int samples, const juce::MidiBuffer& midi, const std::vector<float>* sound) {
    HostBlock block;
    block.sampleRate = rate;
    block.samples = samples;
    block.playing = playing;
    block.recording = recording;
    block.ppq = ppq;
    block.bpm = bpm;
    blocks.push_back({samplesRun, block});

    const int channels =
        std::max(processor->getTotalNumInputChannels(), processor->getTotalNumOutputChannels());
    audio.setSize(channels, samples, false, false, true);
    audio.clear();
    for (int channel = 0; sound != nullptr && channel < processor->getTotalNumInputChannels(); ++channel)
        for (int i = 0; i < samples; ++i)
            audio.setSample(channel, i, sound->at(static_cast<std::size_t>(i)));
    exchange.clear();
    exchange.addEvents(midi, 0, samples, 0);
    if (aroundBlock)
        aroundBlock([this] { processor->processBlock(audio, exchange); });
    else
        processor->processBlock(audio, exchange);
    record(exchange);
    samplesRun += samples;
    if (playing) {
        ppq += samples * bpm / (60.0 * rate);
        playHead->frame += samples * speed;
    }
}

void HostRig::record(const juce::MidiBuffer& midi) {
    for (const auto message : midi) {
        Sent sent;
        sent.sample = samplesRun + message.samplePosition;
        sent.event.sample = message.samplePosition;
        sent.event.size = static_cast<std::uint8_t>(message.numBytes);
        std::copy_n(message.data, std::min(message.numBytes, 3), sent.event.bytes.begin());
        messages.push_back(sent);
    }
}

void HostRig::rollTo(double endPpq, int samples) {
    playing = true;
    while (true) {
        const double left = (endPpq - ppq) * 60.0 / bpm * rate;
        if (left < 0.5)
            return;
        run(std::min(samples, static_cast<int>(std::lround(std::min(left, 1e9)))));
    }
}

void HostRig::loop(double fromPpq, double toPpq, int passes, int samples) {
    for (int pass = 0; pass < passes; ++pass) {
        ppq = fromPpq;
        rollTo(toPpq, samples);
    }
}

} // namespace valveladder::host
