#include "Host/TempLog.h"
#include "Plugin/Processor.h"

#include <benchmark/benchmark.h>
#include <juce_events/juce_events.h>

#include <algorithm>
#include <chrono>
#include <thread>
#include <vector>

namespace valveladder::host {
namespace {

constexpr double sampleRate = 48000.0;
constexpr int blockSamples = 64;
constexpr double bpm = 120.0;

/// A host that rolls, records, and says all there is to say.
class PlayHead final : public juce::AudioPlayHead {
public:
    juce::Optional<PositionInfo> getPosition() const override {
        PositionInfo info;
        info.setIsPlaying(true);
        info.setIsRecording(true);
        info.setBpm(bpm);
        info.setTimeSignature(TimeSignature{4, 4});
        info.setPpqPosition(static_cast<double>(samples) / sampleRate * bpm / 60.0);
        return info;
    }
    std::int64_t samples = 0;
};

double quantile(std::vector<double>& values, double share) {
    const auto at = static_cast<std::ptrdiff_t>(share * static_cast<double>(values.size() - 1));
    std::nth_element(values.begin(), values.begin() + at, values.end());
    return values[static_cast<std::size_t>(at)];
}

/// The whole plugin's processBlock, one 64-sample block at 48 kHz with sound and every second block a note
/// from the player. Counters are parts per million of the block's own real time (1333 microseconds). The
/// worker gets pauses in between, as it does from a host.
void pluginBlock(benchmark::State& state) {
    using Clock = std::chrono::steady_clock;
    const TempLog log;
    Processor processor;
    PlayHead playHead;
    processor.setPlayHead(&playHead);
    processor.setRateAndBufferSizeDetails(sampleRate, blockSamples);
    processor.prepareToPlay(sampleRate, blockSamples);
    juce::AudioBuffer<float> audio(2, blockSamples);
    juce::MidiBuffer midi;
    midi.ensureSize(4096);
    const double realTime = blockSamples / sampleRate * 1.0e9;
    std::vector<double> shares;
    shares.reserve(std::size_t{1} << 20);
    std::int64_t block = 0;
    for (auto _ : state) {
        midi.clear();
        if (block % 2 == 0)
            midi.addEvent(juce::MidiMessage::noteOn(1, 60, static_cast<juce::uint8>(100)), 3);
        const auto from = Clock::now();
        processor.processBlock(audio, midi);
        const double cost = std::chrono::duration<double, std::nano>(Clock::now() - from).count();
        state.SetIterationTime(cost * 1.0e-9);
        shares.push_back(1.0e6 * cost / realTime);
        playHead.samples += blockSamples;
        constexpr std::int64_t blocksBetweenPauses = 1000;
        if (++block % blocksBetweenPauses == 0)
            std::this_thread::sleep_for(std::chrono::milliseconds(50));
    }
    processor.releaseResources();
    state.counters["median_ppm"] = quantile(shares, 0.5);
    state.counters["p99_ppm"] = quantile(shares, 0.99);
    state.counters["worst_ppm"] = quantile(shares, 1.0);
    state.counters["lost_blocks"] = static_cast<double>(processor.losses().blocks);
}
BENCHMARK(pluginBlock)->UseManualTime()->Iterations(100000);

} // namespace
} // namespace valveladder::host

int main(int argc, char** argv) {
    const juce::ScopedJuceInitialiser_GUI juceLife;
    benchmark::Initialize(&argc, argv);
    benchmark::RunSpecifiedBenchmarks();
    benchmark::Shutdown();
    return 0;
}
