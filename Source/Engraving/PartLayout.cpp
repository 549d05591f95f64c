#include "Engraving/PartLayout.h"

#include "Engraving/SheetBeams.h"
#include "Engraving/SheetSymbols.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <numeric>
#include <utility>

namespace valveladder {

namespace {

constexpr std::int64_t finestQuarter = 80640;             // 5040 * 16: 1024ths, triplets to septuplets
constexpr std::int64_t mostUnits = std::int64_t{1} << 60; // of the whole layout
constexpr std::int64_t midiGrid = 48;                     // steps a quarter: 32nds and triplets of 16ths
constexpr std::int64_t longestNote = 1'000'000'000;       // ticks
constexpr std::int64_t plainGrid = 256;                   // steps a quarter that need no tuplet: 1024ths
constexpr std::array<TimeRatio, 8> ratios{
    {{1, 1}, {3, 2}, {5, 4}, {7, 4}, {9, 8}, {11, 8}, {13, 8}, {15, 8}}};

/// The pitch as the file spells it, else diatonic in the key, else sharp upwards and flat downwards.
Spelled spelledIn(const PartNote& note, int fifths, bool goesUp) {
    if (note.alter) {
        const Spelled natural = spell(note.written - *note.alter, Spelling::sharps);
        return {natural.step, *note.alter, natural.octave};
    }
    const Spelling first = goesUp ? Spelling::sharps : Spelling::flats;
    const Spelling second = goesUp ? Spelling::flats : Spelling::sharps;
    for (const Spelling spelling : {first, second}) {
        const Spelled spelled = spell(note.written, spelling);
        if (spelled.alter == alterInKey(spelled.step, fifths))
            return spelled;
    }
    return spell(note.written, first);
}

class PartLayouter {
public:
    PartLayouter(const Part& p, const Marking& m, int first, int count)
        : part(p), marking(m), firstBar(first), barCount(count),
          fromMidi(std::none_of(p.notes.begin(), p.notes.end(), [](const auto& n) { return n.source >= 0; })),
          quarter(fromMidi ? finestQuarter : std::lcm(finestQuarter, std::int64_t{p.ticksPerQuarter})) {}

    Result<LaidPart> build() {
        if (firstBar < 0 || barCount < 1 || firstBar + barCount > static_cast<int>(part.bars.size()))
            return Problem{"there are no such bars", "the part", "choose bars that it has"};
        const PartBar& last = part.bars[static_cast<std::size_t>(firstBar + barCount - 1)];
        base = part.bars[static_cast<std::size_t>(firstBar)].start;
        if ((last.start + last.length - base) / part.ticksPerQuarter > mostUnits / quarter)
            return Problem{"its note values are too fine to be printed", "the part", "choose fewer bars"};
        laid.layout.quarter = quarter;
        addBars();
        addNotes();
        addRest(ends.back());
        for (std::size_t bar = 0; bar < laid.layout.bars.size(); ++bar) {
            markTuplets(laid.layout.bars[bar].symbols,
                        [this](const SheetSymbol& symbol, std::int64_t opened) {
                            return isPlainValue(symbol.end() - opened);
                        });
            beamBar(laid.layout.bars[bar].symbols, beats[bar]);
        }
        if (problem)
            return *problem;
        return std::move(laid);
    }

private:
    [[nodiscard]] std::int64_t unitsOf(Tick tick) const {
        const Tick from = tick - base;
        if (!fromMidi)
            return from * (quarter / part.ticksPerQuarter);
        return std::llround(static_cast<double>(from) * static_cast<double>(midiGrid) /
                            part.ticksPerQuarter) *
               (quarter / midiGrid);
    }

    void addBars() {
        PartMeter meter;
        int fifths = 0;
        for (int i = firstBar; i < firstBar + barCount; ++i) {
            const PartBar& bar = part.bars[static_cast<std::size_t>(i)];
            const PartMeter* newMeter = inForce(part.meters, bar.start);
            const PartMeter now = newMeter ? *newMeter : PartMeter{};
            const int fifthsNow = part.fifthsAt(bar.start);
            const bool sameMeter = now.beats == meter.beats && now.unit == meter.unit;
            SheetBar laidBar;
            laidBar.fifths = fifthsNow;
            if (!part.signs.empty())
                laidBar.signs = part.signs[static_cast<std::size_t>(i)];
            if (i == firstBar || !sameMeter)
                laidBar.meter = Meter{now.beats, now.unit};
            if (i > firstBar && (!sameMeter || fifthsNow != fifths))
                laid.newLines.push_back(i - firstBar);
            const bool compound = now.unit >= 8 && now.beats % 3 == 0;
            beats.push_back(std::max<std::int64_t>(1, quarter * 4 / now.unit * (compound ? 3 : 1)));
            ends.push_back(std::max(unitsOf(bar.start + bar.length), (ends.empty() ? 0 : ends.back()) + 1));
            laid.layout.bars.push_back(std::move(laidBar));
            meter = now;
            fifths = fifthsNow;
        }
        laid.score.meter = *laid.layout.bars.front().meter;
    }

    void addNotes() {
        const auto before = [this](const PartNote& note) { return note.bar < firstBar; };
        const auto from = std::partition_point(part.notes.begin(), part.notes.end(), before);
        laid.firstNote = static_cast<int>(from - part.notes.begin());
        auto to = from;
        while (to != part.notes.end() && to->bar < firstBar + barCount)
            ++to;
        std::vector<Combination> combinations(static_cast<std::size_t>(to - from));
        for (const MarkedNote& marked : marking.notes)
            if (marked.note >= laid.firstNote && marked.note < laid.firstNote + std::ssize(combinations))
                combinations[static_cast<std::size_t>(marked.note - laid.firstNote)] =
                    marked.fingering.combination;
        for (auto note = from; note != to && !problem; ++note)
            addNote(*note, note + 1 == to ? nullptr : &*(note + 1),
                    combinations[static_cast<std::size_t>(note - from)]);
        ScoreSpan all;
        all.noteCount = static_cast<int>(laid.score.notes.size());
        all.end = ends.back() / perTick();
        laid.score.spans.push_back(all);
        laid.score.length = laid.score.spans.front().end;
    }

    void addNote(const PartNote& note, const PartNote* next, Combination combination) {
        const std::int64_t start = std::clamp(unitsOf(note.onset), at, ends.back());
        std::int64_t end = std::min(unitsOf(note.onset + note.length), ends.back());
        const std::int64_t following = next != nullptr ? unitsOf(next->onset) : ends[barOf(start)];
        if (fromMidi && following > start && following - start < 2 * (end - start))
            end = std::min(following, ends.back());
        const int index = static_cast<int>(laid.score.notes.size());
        ScoreNote scored;
        scored.onset = start / perTick();
        scored.length = static_cast<int>(std::clamp<std::int64_t>((end - start) / perTick(), 0, longestNote));
        scored.written = note.written;
        scored.sounding = note.sounding;
        scored.combination = combination;
        scored.slurFromPrevious = note.slurFromPrevious && !note.grace && index > 0;
        laid.score.notes.push_back(scored);
        const bool up = next == nullptr || next->written >= note.written;
        laid.layout.spellings.push_back(spelledIn(note, laid.layout.bars[barOf(start)].fifths, up));
        if (note.grace || end <= start) {
            graces.push_back(index);
            return;
        }
        addRest(start);
        while (at < end && !problem)
            addPiece(index, std::min(end, ends[barOf(at)]));
    }

    [[nodiscard]] std::int64_t perTick() const { return quarter / ticksPerQuarter; }

    [[nodiscard]] std::size_t barOf(std::int64_t time) const {
        const auto after =
            std::partition_point(ends.begin(), ends.end(), [time](std::int64_t end) { return end <= time; });
        return std::min(static_cast<std::size_t>(after - ends.begin()), ends.size() - 1);
    }

    [[nodiscard]] std::int64_t startOf(std::size_t bar) const { return bar == 0 ? 0 : ends[bar - 1]; }

    /// The next beat's start after `time`, of its bar.
    [[nodiscard]] std::int64_t nextBeat(std::int64_t time) const {
        const std::size_t bar = barOf(time);
        return startOf(bar) + ((time - startOf(bar)) / beats[bar] + 1) * beats[bar];
    }

    void addRest(std::int64_t end) {
        while (at < end && !problem) {
            const std::size_t bar = barOf(at);
            if (at == startOf(bar) && end >= ends[bar]) {
                SheetSymbol rest{-1, at, {0, 0, ends[bar] - at}, {}, false, false, true, false, false, {}};
                laid.layout.bars[bar].symbols.push_back(std::move(rest));
                at = ends[bar];
                lastSymbol.note = -1;
            } else {
                addPiece(-1, std::min({end, ends[bar], nextBeat(at)}));
            }
        }
    }

    /// One value where it can be, else cut at beats, else several tied.
    void addPiece(int note, std::int64_t stop) {
        const std::int64_t grid = quarter / plainGrid;
        if (at % grid == 0 && stop % grid == 0 && addValues(note, stop, {}, 8))
            return;
        for (const TimeRatio ratio : ratios)
            if (addValues(note, stop, ratio, 1))
                return;
        if (const std::int64_t beat = nextBeat(at); beat < stop)
            return addPiece(note, beat);
        for (const TimeRatio ratio : ratios)
            if (addValues(note, stop, ratio, 8))
                return;
        const PartBar& bar = part.bars[static_cast<std::size_t>(firstBar) + barOf(at)];
        problem = Problem{"a length that no note value can write", "bar " + bar.number,
                          "quantise the part in the program that made it"};
    }

    /// False, and nothing done, where the ratio needs more than `most` values.
    bool addValues(int note, std::int64_t stop, TimeRatio ratio, std::size_t most) {
        const std::vector<NoteValue> values = noteValues(stop - at, quarter * 4, ratio);
        if (values.empty() || values.size() > most)
            return false;
        at = addTied(laid.layout.bars, lastSymbol,
                     {note, at, {}, ratio, false, false, false, false, false, {}, std::exchange(graces, {})},
                     values, [this](std::int64_t time) { return barOf(time); });
        return true;
    }

    /// A tuplet ends where its notes add up to one.
    [[nodiscard]] bool isPlainValue(std::int64_t length) const {
        const std::vector<NoteValue> whole = noteValues(length, quarter * 4, {});
        return whole.size() == 1 && whole.front().dots == 0;
    }

    const Part& part;
    const Marking& marking;
    int firstBar;
    int barCount;
    bool fromMidi;
    std::int64_t quarter;
    Tick base = 0;
    LaidPart laid;
    std::vector<std::int64_t> ends; ///< of each bar, units from the first bar's start
    std::vector<std::int64_t> beats;
    std::int64_t at = 0; ///< laid out up to here
    std::vector<int> graces;
    LastSymbol lastSymbol;
    std::optional<Problem> problem;
};

} // namespace

Result<LaidPart> layOutPart(const Part& part, const Marking& marking, int firstBar, int barCount) {
    return PartLayouter(part, marking, firstBar, barCount).build();
}

} // namespace valveladder
