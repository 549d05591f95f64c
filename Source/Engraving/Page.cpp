#include "Engraving/Page.h"

#include <algorithm>

namespace valveladder {

namespace {

/// A head, an accidental and the air between two notes, staff spaces. Ours, by eye.
constexpr double shortestNoteSpaces = 2.35;

Tick barStart(const Score& score, int bar) {
    return score.countInTicks + static_cast<Tick>(bar) * score.meter.barTicks();
}

int barOf(const Score& score, Tick tick) {
    return static_cast<int>((tick - score.countInTicks) / score.meter.barTicks());
}

/// Notes of the span that begin in [start, end).
void fillNotes(const Score& score, const ScoreSpan& span, Page& page) {
    for (int i = span.firstNote; i < span.firstNote + span.noteCount; ++i) {
        const Tick onset = score.notes[static_cast<std::size_t>(i)].onset;
        if (onset < page.start || onset >= page.end)
            continue;
        if (page.noteCount++ == 0)
            page.firstNote = i;
    }
}

} // namespace

std::vector<Page> pagesOf(const Score& score, const SheetLayout& layout, double widestQuarters) {
    std::vector<Page> pages;
    const double barQuarters = quartersOf(score.meter.barTicks());
    const int most = std::max(1, static_cast<int>(widestQuarters / barQuarters));
    const int bars = static_cast<int>(layout.bars.size());
    for (std::size_t s = 0; s < score.spans.size(); ++s) {
        const ScoreSpan& span = score.spans[s];
        const int from = barOf(score, span.start);
        const int to = std::min(bars, barOf(score, span.end - 1) + 1);
        const int parts = (to - from + most - 1) / most;
        const int perPart = (to - from + parts - 1) / parts;
        for (int bar = from; bar < to; bar += perPart) {
            Page page;
            page.span = static_cast<int>(s);
            page.firstBar = bar;
            page.barCount = std::min(perPart, to - bar);
            page.opensSpan = bar == from;
            page.closesSpan = bar + page.barCount == to;
            page.start = page.opensSpan ? span.start : barStart(score, bar);
            page.end = barStart(score, bar + page.barCount);
            if (page.closesSpan && s + 1 < score.spans.size())
                page.end = std::min(page.end, score.spans[s + 1].start);
            fillNotes(score, span, page);
            pages.push_back(page);
        }
    }
    return pages;
}

double quartersWithin(const Score& score, double spaces) {
    int shortest = ticksPerQuarter * 4;
    for (const ScoreNote& note : score.notes)
        shortest = std::min(shortest, note.length);
    return spaces / shortestNoteSpaces * shortest / ticksPerQuarter;
}

} // namespace valveladder
