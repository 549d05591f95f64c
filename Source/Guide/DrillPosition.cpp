#include "Guide/DrillPosition.h"

#include "Tempo/SampleTime.h"

#include <algorithm>
#include <cmath>

namespace valveladder {

namespace {

constexpr double tickSlack = 1.0e-6;

} // namespace

DrillPosition drillPosition(const Score& score, const GuideSettings& settings, double ppq) noexcept {
    if (score.length <= 0 || !usablePpq(ppq))
        return {};
    const double start = usablePpq(settings.startPpq) ? settings.startPpq : 0.0;
    const auto ticks = static_cast<Tick>(std::floor((ppq - start) * ticksPerQuarter + tickSlack));
    if (ticks < 0)
        return {};
    if (!settings.repeat && ticks >= score.length)
        return {false, 0, score.length};
    return {true, ticks / score.length, ticks % score.length};
}

DrillWindow drillWindow(const Score& score, const GuideSettings& settings, double ppq) noexcept {
    const DrillPosition position = drillPosition(score, settings, ppq);
    const double start = usablePpq(settings.startPpq) ? settings.startPpq : 0.0;
    DrillWindow window;
    window.lap = position.lap;
    window.startPpq = window.endPpq = start;
    if (score.empty() || score.length <= 0)
        return window;
    const Tick lapTick = position.lap * score.length;
    const ScoreNote& last = score.notes.back();
    const Tick end = std::min(last.onset + std::max(1, last.length), score.length);
    window.startPpq = start + quartersOf(lapTick + score.notes.front().onset);
    window.endPpq = start + quartersOf(lapTick + end);
    window.lapQuarters = settings.repeat ? quartersOf(score.length) : 0.0;
    return window;
}

} // namespace valveladder
