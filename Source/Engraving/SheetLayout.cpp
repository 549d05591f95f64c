#include "Engraving/SheetLayout.h"

#include "Engraving/SheetBeams.h"
#include "Engraving/SheetSymbols.h"

#include <algorithm>
#include <numeric>
#include <optional>

namespace valveladder {

namespace {

constexpr std::int64_t finestFactor = 16; // a whole note of ticks divides to 64ths; times 16, to 1024ths

std::int64_t shareSum(const Rhythm& rhythm) {
    return std::accumulate(rhythm.shares.begin(), rhythm.shares.end(), std::int64_t{0});
}

std::int64_t cycleTicks(const Rhythm& rhythm, const Drill& drill) {
    return static_cast<std::int64_t>(rhythm.shares.size()) * drill.noteTicks;
}

/// Units a tick, so that every share of every rhythm is a whole number of units.
std::int64_t unitsPerTick(const Drill& drill) {
    std::int64_t factor = 1;
    for (const Segment& segment : drill.segments) {
        const std::int64_t sum = shareSum(segment.rhythm);
        factor = std::lcm(factor, sum / std::gcd(sum, cycleTicks(segment.rhythm, drill)));
    }
    return factor * finestFactor;
}

class Layout {
public:
    Layout(const Score& s, const Drill& d) : score(s), drill(d), perTick(unitsPerTick(d)) {
        sheet.quarter = ticksPerQuarter * perTick;
        whole = sheet.quarter * 4;
        bar = drill.meter.barTicks() * perTick;
        const bool compound = drill.meter.unit >= 8 && drill.meter.beats % 3 == 0;
        beat = drill.meter.beatTicks() * perTick * (compound ? 3 : 1);
        origin = score.countInTicks * perTick;
        sheet.bars.resize(static_cast<std::size_t>((score.length * perTick - origin + bar - 1) / bar));
    }

    Result<SheetLayout> build() {
        for (std::size_t span = 0; span < score.spans.size() && !problem; ++span)
            addSpan(static_cast<int>(span));
        addRest(static_cast<std::int64_t>(sheet.bars.size()) * bar);
        if (problem)
            return *problem;
        for (SheetBar& each : sheet.bars) {
            markTuplets(each.symbols, [this](const SheetSymbol& symbol, std::int64_t opened) {
                return (symbol.end() - opened) % groupOf(symbol) == 0;
            });
            beamBar(each.symbols, beat);
        }
        if (!sheet.bars.empty())
            sheet.bars.front().meter = drill.meter;
        return std::move(sheet);
    }

private:
    void addSpan(int index) {
        const ScoreSpan& span = score.spans[static_cast<std::size_t>(index)];
        const Rhythm& rhythm = drill.segments[static_cast<std::size_t>(span.segment)].rhythm;
        const std::int64_t sum = shareSum(rhythm);
        const std::int64_t unit = cycleTicks(rhythm, drill) * perTick / sum;
        const Result<TimeRatio> tuplet = tupletFor(unit, whole);
        if (!tuplet) {
            problem = tuplet.problem();
            problem->where = "segment " + std::to_string(span.segment + 1);
            return;
        }
        addRest(span.start * perTick - origin);
        ratio = tuplet.value();
        barAt(at).span = index;
        for (int i = 0; i < span.noteCount; ++i)
            addNote(span.firstNote + i,
                    unit * rhythm.shares[static_cast<std::size_t>(i) % rhythm.shares.size()]);
    }

    [[nodiscard]] std::size_t barOf(std::int64_t position) const {
        return std::min(static_cast<std::size_t>(position / bar), sheet.bars.size() - 1);
    }

    SheetBar& barAt(std::int64_t position) { return sheet.bars[barOf(position)]; }

    void addNote(int note, std::int64_t length) {
        const std::int64_t end = at + length;
        while (at < end) {
            const std::int64_t stop = std::min(end, (at / bar + 1) * bar);
            if (!addValues(note, stop, ratio))
                return;
        }
    }

    /// Rests from here to `end`: whole bars where they fit, the rest of a beat first otherwise.
    void addRest(std::int64_t end) {
        while (at < end && !problem) {
            const std::int64_t barEnd = (at / bar + 1) * bar;
            if (at % bar == 0 && end >= barEnd) {
                barAt(at).symbols.push_back({-1, at, {0, 0, bar}, {}, false, false, true, false, false, {}});
                at = barEnd;
                continue;
            }
            const std::int64_t limit = std::min(end, barEnd);
            const std::int64_t nextBeat = (at / beat + 1) * beat;
            const std::int64_t lastBeat = limit / beat * beat;
            const std::int64_t stop =
                at % beat != 0 ? std::min(nextBeat, limit) : (lastBeat > at ? lastBeat : limit);
            const bool plain = !noteValues(stop - at, whole, {}).empty();
            addValues(-1, stop, plain ? TimeRatio{} : ratio);
        }
    }

    bool addValues(int note, std::int64_t stop, TimeRatio how) {
        const std::vector<NoteValue> values = noteValues(stop - at, whole, how);
        if (values.empty()) {
            problem = Problem{"a length that no note value can write", "bar " + std::to_string(at / bar + 1),
                              "choose a meter whose bars hold whole cycles of the rhythm, or simpler shares"};
            return false;
        }
        at = addTied(sheet.bars, lastSymbol, {note, at, {}, how, false, false, false, false, false, {}},
                     values, [this](std::int64_t position) { return barOf(position); });
        return true;
    }

    /// Time that `actual` notes of the tuplet's unit take, from the symbol's own segment.
    [[nodiscard]] std::int64_t groupOf(const SheetSymbol& symbol) const {
        if (symbol.note < 0)
            return beat;
        const ScoreNote& note = score.notes[static_cast<std::size_t>(symbol.note)];
        const Rhythm& rhythm = drill.segments[static_cast<std::size_t>(note.segment)].rhythm;
        return cycleTicks(rhythm, drill) * perTick / shareSum(rhythm) * symbol.ratio.actual;
    }

    const Score& score;
    const Drill& drill;
    std::int64_t perTick;
    std::int64_t whole = 0;
    std::int64_t bar = 0;
    std::int64_t beat = 0;
    std::int64_t origin = 0;
    std::int64_t at = 0; ///< laid out up to here
    TimeRatio ratio;     ///< of the segment last laid
    LastSymbol lastSymbol;
    SheetLayout sheet;
    std::optional<Problem> problem;
};

} // namespace

Result<SheetLayout> layOut(const Score& score, const Drill& drill, Spelling names) {
    if (score.empty())
        return Problem{"the drill holds no notes", "the practice sheet", "choose a drill with notes"};
    Result<SheetLayout> layout = Layout(score, drill).build();
    if (layout)
        layout.value().names = names;
    return layout;
}

} // namespace valveladder
