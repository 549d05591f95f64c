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

HostReport hostReport(const juce::AudioPlayHead* playHead, double sampleRate, int samples) noexcept {
    HostReport report;
    HostBlock& block = report.block;
    block.sampleRate = sampleRate;
    block.samples = samples;
    if (playHead == nullptr)
        return report;
    const auto position = playHead->getPosition();
    if (!position.hasValue())
        return report;
    report.present = true;
    block.playing = position->getIsPlaying();
    block.recording = position->getIsRecording();
    block.looping = position->getIsLooping();
    if (const auto ppq = position->getPpqPosition())
        block.ppq = finite(*ppq);
    if (const auto bpm = position->getBpm())
        block.bpm = positive(*bpm);
    if (const auto meter = position->getTimeSignature())
        takeMeter(block, *meter);
    if (const auto loop = position->getLoopPoints())
        takeLoop(block, *loop);
    if (const auto frame = position->getTimeInSamples())
        report.frame = *frame;
    if (const auto bar = position->getBarCount())
        report.bar = *bar;
    return report;
}

} // namespace valveladder
