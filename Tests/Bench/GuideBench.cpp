#include "Guide/Guide.h"
#include "Support/Scores.h"

#include <benchmark/benchmark.h>

#include <algorithm>
#include <chrono>
#include <cstdint>
#include <vector>

namespace valveladder::test {
namespace {

constexpr double sampleRate = 48000.0;
constexpr int blockSamples = 64;
constexpr double bpm = 120.0;
constexpr std::int64_t clockRepeats = 10000;

double quarterAfter(std::int64_t block) {
    return static_cast<double>(block * blockSamples) / sampleRate * bpm / 60.0;
}

HostBlock blockAt(std::int64_t index) {
    HostBlock block;
    block.sampleRate = sampleRate;
    block.samples = blockSamples;
    block.playing = true;
    block.bpm = bpm;
    block.ppq = quarterAfter(index);
    return block;
}

double quantile(std::vector<double>& values, double share) {
    const auto at = static_cast<std::ptrdiff_t>(share * static_cast<double>(values.size() - 1));
    std::nth_element(values.begin(), values.begin() + at, values.end());
    return values[static_cast<std::size_t>(at)];
}

/// Nanoseconds that reading the clock itself takes, to be taken off each block.
double clockCost() {
    using Clock = std::chrono::steady_clock;
    std::vector<double> costs;
    for (std::int64_t i = 0; i < clockRepeats; ++i) {
        const auto from = Clock::now();
        const auto to = Clock::now();
        costs.push_back(std::chrono::duration<double, std::nano>(to - from).count());
    }
    return quantile(costs, 0.5);
}

/// One 64-sample block at 48 kHz with every part on, the default ladder repeated. Counters are shares of the
/// block's own real time (1333 microseconds) in parts per million: 1 % is 10000.
void guideBlock(benchmark::State& state) {
    using Clock = std::chrono::steady_clock;
    const GuideTrack track(ladderScore());
    GuideSettings settings;
    settings.midiClock = state.range(0) != 0;
    Guide guide;
    const double clock = clockCost();
    const double realTime = blockSamples / sampleRate * 1.0e9;
    std::vector<double> costs;
    costs.reserve(std::size_t{1} << 22);
    std::int64_t index = 0;
    std::size_t events = 0;
    for (auto _ : state) {
        const HostBlock block = blockAt(index++);
        const auto from = Clock::now();
        const auto sent = guide.process(block, &track, settings);
        benchmark::DoNotOptimize(sent.data());
        const auto to = Clock::now();
        events += sent.size();
        const double cost = std::chrono::duration<double, std::nano>(to - from).count() - clock;
        state.SetIterationTime(std::max(cost, 0.0) * 1.0e-9);
        if (costs.size() < costs.capacity())
            costs.push_back(1.0e6 * cost / realTime);
    }
    state.counters["median_ppm"] = quantile(costs, 0.5);
    state.counters["p99_ppm"] = quantile(costs, 0.99);
    state.counters["worst_ppm"] = quantile(costs, 1.0);
    state.counters["events_per_block"] = static_cast<double>(events) / static_cast<double>(index);
}
BENCHMARK(guideBlock)->ArgName("midiClock")->Arg(0)->Arg(1)->UseManualTime()->Iterations(1000000);

/// The same range in blocks of other sizes: cost a block should grow with its events, not with its samples.
void guideBlockSize(benchmark::State& state) {
    const GuideTrack track(ladderScore());
    Guide guide;
    HostBlock block = blockAt(0);
    block.samples = static_cast<int>(state.range(0));
    std::int64_t now = 0;
    for (auto _ : state) {
        block.ppq = static_cast<double>(now) / sampleRate * bpm / 60.0;
        now += block.samples;
        benchmark::DoNotOptimize(guide.process(block, &track, {}).data());
    }
    state.SetItemsProcessed(now);
}
BENCHMARK(guideBlockSize)->ArgName("samples")->Arg(1)->Arg(64)->Arg(512)->Arg(4096);

} // namespace
} // namespace valveladder::test
