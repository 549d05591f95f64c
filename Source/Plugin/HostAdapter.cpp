#include "Plugin/HostAdapter.h"

#include <cmath>

namespace valveladder {

namespace {

std::optional<double> finite(double value) {
    return std::isfinite(value) ? std::optional<double>(value) : std::nullopt;
}

std::optional<double> positive(double value) {
    return std::isfinite(value) && value > 0.0 ? std::optional<double>(value) : std::nullopt;
}

void takeMeter(HostBlock& block, juce::AudioPlayHead::TimeSignature meter) {
    if (meter.numerator > 0 && meter.denominator > 0) {
        block.meterBeats = meter.numerator;
        block.meterUnit = meter.denominator;
    }
}

void takeLoop(HostBlock& block, juce::AudioPlayHead::LoopPoints loop) {
    if (loop.ppqEnd > loop.ppqStart) {
        block.loopStartPpq = finite(loop.ppqStart);
        block.loopEndPpq = finite(loop.ppqEnd);
    }
}

} // namespace

HostBlock hostBlock(const juce::AudioPlayHead* playHead, double sampleRate, int samples) noexcept {
    HostBlock block;
    block.sampleRate = sampleRate;
    block.samples = samples;
    const auto position =
        playHead != nullptr ? playHead->getPosition() : juce::Optional<juce::AudioPlayHead::PositionInfo>{};
    if (!position.hasValue())
        return block;
    block.playing = position->getIsPlaying();
    block.recording = position->getIsRecording();
    block.looping = position->getIsLooping();
    if (const auto ppq = position->getPpqPosition())
        block.ppq = finite(*ppq);
    if (const auto frame = position->getTimeInSamples())
        block.frame = *frame;
    if (const auto bpm = position->getBpm())
        block.bpm = positive(*bpm);
    if (const auto meter = position->getTimeSignature())
        takeMeter(block, *meter);
    if (const auto loop = position->getLoopPoints())
        takeLoop(block, *loop);
    return block;
}

} // namespace valveladder
