#include "Plugin/RungAgain.h"

#include "Guide/DrillPosition.h"

namespace valveladder {

namespace {

/// The note that sounds at a tick, or the one before it.
const ScoreNote& lastNoteAt(const Score& score, Tick tick) {
    const std::size_t next = score.noteAt(tick);
    const bool waits = next == score.notes.size() || score.notes[next].onset > tick;
    return score.notes[waits && next > 0 ? next - 1 : next];
}

} // namespace

RungStart rungAgain(const Score& score, const GuideSettings& settings, double ppq) noexcept {
    const DrillPosition position = drillPosition(score, settings, ppq);
    const bool past = !position.inside && ppq > settings.startPpq;
    const int rung = past ? score.notes.back().rung : lastNoteAt(score, position.tick).rung;
    Tick from = 0;
    Tick firstNote = 0;
    for (const ScoreSpan& span : score.spans) {
        firstNote = score.notes[static_cast<std::size_t>(span.firstNote)].onset;
        if (span.rung == rung)
            break;
        from = span.end;
    }
    const Tick lap = position.inside ? static_cast<Tick>(position.lap) * score.length : 0;
    const auto ppqOf = [&](Tick tick) { return settings.startPpq + quartersOf(lap + tick); };
    return {ppqOf(from), ppqOf(firstNote)};
}

} // namespace valveladder
