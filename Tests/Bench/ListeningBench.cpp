// What listening costs, in processor time of one core: files and the live worker, with aubio's yin (window
// 4096, hop 512) on the same sound beside it, and what a two-hour take does to memory.
#include "Listening/SoundListener.h"
#include "Support/AubioNotes.h"
#include "Support/BrassSynth.h"
#include "Support/MemoryInUse.h"

#include <benchmark/benchmark.h>

#include <cstdlib>
#include <ctime>
#include <string_view>

namespace valveladder::testing {
namespace {

constexpr double rate = 48000.0;
constexpr double bpm = 96.0;

struct Voice {
    int transposition;
    BrassVoice voice;
};

Voice voiceAt(std::int64_t index) {
    return index == 0 ? Voice{-2, trumpetVoice()} : Voice{-26, tubaVoice()};
}

struct BenchTake {
    Score score;
    SoundTake take;
    [[nodiscard]] double seconds() const { return static_cast<double>(take.samples.size()) / take.rate; }
};

/// The listening tests' chromatic run, about half a minute.
BenchTake takeOf(const Voice& voice, double sampleRate = rate) {
    RunShape shape;
    shape.transposition = voice.transposition;
    Score score = chromaticRun(shape, bpm);
    SoundTake take = renderBrass(planTake(score, bpm, {}, {}, 1), voice.voice, 1, sampleRate);
    return {std::move(score), std::move(take)};
}

SoundListener listenerFor(const BenchTake& bench) {
    SoundSettings settings;
    settings.sampleRate = bench.take.rate;
    settings.tempo = TempoMap(bpm);
    settings.startSeconds = bench.take.truth.startSeconds;
    return {bench.score, settings};
}

double processorSeconds() {
    timespec now{};
    clock_gettime(CLOCK_THREAD_CPUTIME_ID, &now);
    return static_cast<double>(now.tv_sec) + 1e-9 * static_cast<double>(now.tv_nsec);
}

/// A whole file: times_real_time is its length over the processor time taken.
void soundFile(benchmark::State& state) {
    const BenchTake bench = takeOf(voiceAt(state.range(0)));
    double cost = 0.0;
    double heard = 0.0;
    for (auto _ : state) {
        const double from = processorSeconds();
        SoundListener listener = listenerFor(bench);
        listener.push(bench.take.samples);
        benchmark::DoNotOptimize(listener.finish());
        cost += processorSeconds() - from;
        heard += bench.seconds();
    }
    state.counters["times_real_time"] = heard / cost;
}
BENCHMARK(soundFile)->ArgName("tuba")->Arg(0)->Arg(1)->Iterations(4);

void soundFileByAubio(benchmark::State& state) {
    const BenchTake bench = takeOf(voiceAt(state.range(0)));
    double cost = 0.0;
    double heard = 0.0;
    for (auto _ : state) {
        const double from = processorSeconds();
        benchmark::DoNotOptimize(aubioNotes(bench.take.samples, bench.take.rate));
        cost += processorSeconds() - from;
        heard += bench.seconds();
    }
    state.counters["times_real_time"] = heard / cost;
}
BENCHMARK(soundFileByAubio)->ArgName("tuba")->Arg(0)->Arg(1)->Iterations(4);

/// As the live worker gets it: blocks of 256 samples. share_percent of one core; worst_ms is the dearest
/// block (a phrase's end), finish_ms the verdict after the take's end.
void soundLive(benchmark::State& state) {
    constexpr std::size_t block = 256;
    const BenchTake bench = takeOf(voiceAt(state.range(0)));
    double cost = 0.0;
    double heard = 0.0;
    double worst = 0.0;
    double verdict = 0.0;
    for (auto _ : state) {
        SoundListener listener = listenerFor(bench);
        for (std::size_t at = 0; at + block <= bench.take.samples.size(); at += block) {
            const double from = processorSeconds();
            listener.push(std::span(bench.take.samples).subspan(at, block));
            benchmark::DoNotOptimize(listener.now());
            const double taken = processorSeconds() - from;
            cost += taken;
            worst = std::max(worst, taken);
        }
        const double from = processorSeconds();
        benchmark::DoNotOptimize(listener.finish());
        verdict = std::max(verdict, processorSeconds() - from);
        heard += bench.seconds();
    }
    state.counters["share_percent"] = 100.0 * cost / heard;
    state.counters["worst_ms"] = 1000.0 * worst;
    state.counters["finish_ms"] = 1000.0 * verdict;
}
BENCHMARK(soundLive)->ArgName("tuba")->Arg(0)->Arg(1)->Iterations(2);

double megabytesInUse() {
    return static_cast<double>(testing::memoryInUse()) / 1048576.0;
}

/// One take of two hours (VALVE_LADDER_FULL=1; ten minutes otherwise), the run played over and over:
/// grown_megabytes from its first minute to its end.
void soundLongTake(benchmark::State& state) {
    const char* full = std::getenv("VALVE_LADDER_FULL");
    const double wanted = full != nullptr && std::string_view(full) == "1" ? 7200.0 : 600.0;
    const BenchTake bench = takeOf(voiceAt(0));
    for (auto _ : state) {
        SoundListener listener = listenerFor(bench);
        double heard = 0.0;
        double early = 0.0;
        for (; heard < wanted; heard += bench.seconds()) {
            listener.push(bench.take.samples);
            if (early == 0.0 && heard > 60.0)
                early = megabytesInUse();
        }
        state.counters["minutes"] = heard / 60.0;
        state.counters["grown_megabytes"] = megabytesInUse() - early;
    }
}
BENCHMARK(soundLongTake)->Iterations(1);

} // namespace
} // namespace valveladder::testing
