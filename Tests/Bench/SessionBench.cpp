// What the worker spends on a take of sound, as a share of the time that the sound lasts.
#include "Session/Session.h"
#include "Support/BrassSynth.h"

#include <benchmark/benchmark.h>

#include <filesystem>
#include <unistd.h>

namespace valveladder {
namespace {

constexpr double rate = 48000.0;
constexpr int blockSamples = 128;

struct Stage {
    Stage()
        : folder(std::filesystem::temp_directory_path() /
                 ("valve-ladder-bench-" + std::to_string(::getpid()))) {
        std::filesystem::create_directories(folder);
        config.rules.startBpm = 90.0;
        session = std::make_unique<Session>(folder / "log.sqlite", config, [this] { return clock; });
    }
    ~Stage() {
        session.reset();
        std::filesystem::remove_all(folder);
    }
    Stage(const Stage&) = delete;
    Stage& operator=(const Stage&) = delete;

    SessionConfig config;
    std::filesystem::path folder;
    UtcMs clock = 1'780'000'000'000;
    std::unique_ptr<Session> session;
};

/// A take of the whole default drill (96 notes at 90 bpm), rendered; its verdict included.
void sessionHearsATake(benchmark::State& state) {
    Stage stage;
    const Score& score = stage.session->setup()->score();
    testing::PlanStyle style;
    style.startSeconds = 0.0;
    const auto take =
        testing::renderBrass(testing::planTake(score, 90.0, style, {}, 5), testing::trumpetVoice(), 5, rate);
    std::int64_t samples = 0;
    for (auto unused : state) {
        (void)unused;
        for (std::size_t at = 0; at + blockSamples <= take.samples.size(); at += blockSamples) {
            SessionBlock block;
            block.startSample = samples;
            block.clock = Clock::host;
            block.trackId = stage.session->setup()->track->id();
            block.host.samples = blockSamples;
            block.host.playing = block.host.recording = true;
            block.host.bpm = 90.0;
            block.host.ppq = static_cast<double>(at) / rate * 1.5;
            block.sound = std::span(take.samples).subspan(at, blockSamples);
            stage.session->block(block);
            samples += blockSamples;
        }
        stage.session->close();
    }
    const double seconds = static_cast<double>(samples) / rate;
    state.counters["seconds of sound a second"] = benchmark::Counter(seconds, benchmark::Counter::kIsRate);
    state.counters["share of one core, %"] =
        benchmark::Counter(seconds / 100.0, benchmark::Counter::kIsRate | benchmark::Counter::kInvert);
}
BENCHMARK(sessionHearsATake)->Unit(benchmark::kMillisecond);

} // namespace
} // namespace valveladder
