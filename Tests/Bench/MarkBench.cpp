#include "Music/Marking.h"

#include <benchmark/benchmark.h>

namespace valveladder::test {
namespace {

/// A part of `hours` in sixteenths at 120, over two octaves and more.
Part longPart(double hours) {
    constexpr int notesPerSecond = 8;
    Part part;
    part.tempos.push_back({0, 120.0});
    for (int i = 0; i < static_cast<int>(hours * 3600 * notesPerSecond); ++i) {
        PartNote note;
        note.onset = part.length;
        note.length = ticksPerQuarter / 4;
        note.written = 54 + (i * 7) % 28;
        note.bar = i / 16;
        part.notes.push_back(note);
        if (i % 16 == 0)
            part.bars.push_back({part.length, 4 * ticksPerQuarter, std::to_string(i / 16 + 1), i / 16});
        part.length += note.length;
    }
    return part;
}

/// The promise is under one second for three hours: the counter is that share.
void markThreeHours(benchmark::State& state) {
    const Part part = longPart(3.0);
    const Instrument& instrument = *findInstrument(state.range(0) == 0 ? "trumpet-b-flat" : "horn-double");
    for (auto _ : state) {
        const Marking marking = markPart(part, instrument);
        benchmark::DoNotOptimize(rankedSpots(part, marking, instrument).data());
    }
    state.counters["notes"] = static_cast<double>(part.notes.size());
}
BENCHMARK(markThreeHours)->ArgName("doubleHorn")->Arg(0)->Arg(1)->Unit(benchmark::kMillisecond);

} // namespace
} // namespace valveladder::test
