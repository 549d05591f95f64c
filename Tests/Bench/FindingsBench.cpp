// Cost of findings against the size of the log, and of two takes side by side. Ratios within one run are what
// counts: twice the takes should cost no more than twice.
#include "Findings/Findings.h"
#include "Findings/SideBySide.h"
#include "Log/TempFolder.h"
#include "Review/LogEvidence.h"
#include "Support/SimulatedLog.h"

#include <benchmark/benchmark.h>

#include <chrono>
#include <map>

namespace valveladder {
namespace {

const Instrument& instrument() {
    static const Instrument found = *findInstrument("euphonium-4-treble");
    return found;
}

/// About a thousand notes a take: three rungs, up and down, four segments, seven times.
Drill longDrill() {
    Drill drill = simulated::fullDrill(instrument());
    drill.repeats = 7;
    return drill;
}

const std::vector<TakeEvidence>& log(int takes) {
    static std::map<int, std::vector<TakeEvidence>> logs;
    auto& found = logs[takes];
    if (found.empty()) {
        simulated::Player player({{{SuspectKind::press, 3, {}, {}, {}}, 15.0}}, {}, 20240304);
        found = simulated::practise(player, longDrill(), instrument(), takes, 40.0);
        // Takes stretch over a year so that none is too old to count.
        for (int i = 0; i < takes; ++i) {
            auto facts = simulated::factsOf(i, found[static_cast<std::size_t>(i)].facts.playedBpm);
            facts.instrumentId = instrument().id;
            found[static_cast<std::size_t>(i)].facts = facts;
        }
    }
    return found;
}

double notesIn(const std::vector<TakeEvidence>& takes) {
    double notes = 0.0;
    for (const auto& take : takes)
        notes += take.notes;
    return notes;
}

void findingsOfALog(benchmark::State& state) {
    const auto& takes = log(static_cast<int>(state.range(0)));
    for (auto _ : state)
        benchmark::DoNotOptimize(findingsIn(takes, instrument(), 66.0));
    state.counters["notes"] = notesIn(takes);
    state.counters["us_per_take"] =
        benchmark::Counter(static_cast<double>(takes.size()),
                           benchmark::Counter::kIsIterationInvariantRate | benchmark::Counter::kInvert);
    state.SetComplexityN(state.range(0));
}
BENCHMARK(findingsOfALog)
    ->Arg(125)
    ->Arg(250)
    ->Arg(500)
    ->Arg(1000)
    ->Unit(benchmark::kMillisecond)
    ->UseRealTime()
    ->Complexity();

void weaknessesOfALog(benchmark::State& state) {
    const auto& takes = log(static_cast<int>(state.range(0)));
    for (auto _ : state)
        benchmark::DoNotOptimize(findWeaknesses(takes));
    state.counters["notes"] = notesIn(takes);
    state.SetComplexityN(state.range(0));
}
BENCHMARK(weaknessesOfALog)
    ->Arg(125)
    ->Arg(250)
    ->Arg(500)
    ->Arg(1000)
    ->Unit(benchmark::kMillisecond)
    ->UseRealTime()
    ->Complexity();

/// The same practice in a file, as the window, the plugin's worker and the console come to it.
void findingsFromALogFile(benchmark::State& state) {
    const TempFolder folder;
    const auto path = folder / "log.sqlite";
    simulated::Practice practice{.drill = longDrill(), .takes = static_cast<int>(state.range(0))};
    {
        simulated::Player player({{{SuspectKind::press, 3, {}, {}, {}}, 15.0}}, {}, 20240304);
        auto log = LogStore::open(path);
        if (!log || !simulated::keepPractice(*log.value(), player, practice))
            return state.SkipWithError("the log cannot be written");
    }
    using Clock = std::chrono::steady_clock;
    double reading = 0.0, notes = 0.0;
    for (auto _ : state) {
        const auto begun = Clock::now();
        const auto log = LogStore::openReadOnly(path);
        const auto evidence = readEvidence(*log.value(), {});
        reading += std::chrono::duration<double, std::milli>(Clock::now() - begun).count();
        benchmark::DoNotOptimize(findingsIn(evidence.value().takes, instrument(), 66.0));
        notes = notesIn(evidence.value().takes);
    }
    state.counters["notes"] = notes;
    state.counters["ms_reading"] = benchmark::Counter(reading, benchmark::Counter::kAvgIterations);
}
BENCHMARK(findingsFromALogFile)->Arg(1000)->Unit(benchmark::kMillisecond)->UseRealTime();

void twoTakesSideBySide(benchmark::State& state) {
    const Drill drill = longDrill();
    const Score score = buildScore(drill, instrument(), 66.0).value();
    simulated::Player player({}, {}, 1);
    const Performance first = player.play(drill, instrument(), score);
    const Performance second = player.play(drill, instrument(), score);
    for (auto _ : state)
        benchmark::DoNotOptimize(sideBySide(score, {{"first", 66.0, {&first}}, {"second", 66.0, {&second}}}));
    state.counters["notes"] = static_cast<double>(score.notes.size());
}
BENCHMARK(twoTakesSideBySide)->Unit(benchmark::kMillisecond);

void drillThatSettles(benchmark::State& state) {
    const auto& takes = log(125);
    const auto limits = usualLimits(instrument(), 66.0);
    for (auto _ : state)
        benchmark::DoNotOptimize(drillThatSeparates(takes, {}, instrument(), limits));
}
BENCHMARK(drillThatSettles)->Unit(benchmark::kMillisecond);

} // namespace
} // namespace valveladder
