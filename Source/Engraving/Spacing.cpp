#include "Engraving/Spacing.h"

#include <algorithm>
#include <cmath>

namespace valveladder {

namespace {

// Staff spaces. That room grows more slowly than time is engraving practice (Gould, "Behind Bars", 2011, from
// memory); the figures are ours, by eye.
constexpr double quarterRoom = 4.2;
constexpr double growth = 0.6; ///< exponent over the note value
constexpr double leastRoom = 2.7;
constexpr double clearRoom = 3.3; ///< ledger lines on both sides of an accidental stand clear of it
constexpr double wholeBarRest = 5.0;
constexpr double dotRoom = 0.6;
constexpr double graceRoom = 1.3;
constexpr double barLineRoom = 1.7;
constexpr double textGap = 0.5;

constexpr double longRest = 1.0 / 3.0; ///< share of a page's time from which a rest is squeezed
constexpr double squeezedShare = 0.15; ///< of the page's width that it then has

double tickOf(const Score& score, const SheetLayout& layout, const SheetSymbol& symbol) {
    const double perTick = static_cast<double>(layout.quarter) / ticksPerQuarter;
    return static_cast<double>(symbol.start) / perTick + static_cast<double>(score.countInTicks);
}

class Spacer {
public:
    Spacer(const Score& s, const SheetLayout& l, std::span<const double> t) : score(s), layout(l), texts(t) {}

    std::vector<TimeKnot> space(const Page& page) {
        std::vector<TimeKnot> knots;
        double x = 0.0;
        for (int index = page.firstBar; index < page.firstBar + page.barCount; ++index) {
            const SheetBar& bar = layout.bars[static_cast<std::size_t>(index)];
            for (std::size_t i = 0; i < bar.symbols.size(); ++i) {
                knots.push_back({tickOf(score, layout, bar.symbols[i]), x});
                const SheetSymbol* next = i + 1 < bar.symbols.size() ? &bar.symbols[i + 1] : nullptr;
                x += roomOf(bar.symbols[i], next) + (next ? 0.0 : barLineRoom);
            }
            x += bar.signs.repeatTimes > 0 ? repeatRoom : 0.0;
            if (index + 1 < page.firstBar + page.barCount)
                x += layout.bars[static_cast<std::size_t>(index) + 1].signs.repeatStart ? repeatRoom : 0.0;
        }
        knots.push_back({static_cast<double>(page.end), x});
        return knots;
    }

private:
    [[nodiscard]] double textOf(const SheetSymbol& symbol) const {
        return symbol.note < 0 || symbol.tiedFrom || texts.empty()
                   ? 0.0
                   : texts[static_cast<std::size_t>(symbol.note)];
    }

    [[nodiscard]] double roomOf(const SheetSymbol& symbol, const SheetSymbol* next) const {
        if (symbol.wholeBar)
            return wholeBarRest;
        const double quarters =
            static_cast<double>(symbol.value.length) / static_cast<double>(layout.quarter);
        double room = std::max(leastRoom, quarterRoom * std::pow(quarters, growth));
        if (next != nullptr && textOf(symbol) > 0.0 && textOf(*next) > 0.0)
            room = std::max(room, (textOf(symbol) + textOf(*next)) / 2 + textGap);
        if (next != nullptr)
            room += graceRoom * static_cast<double>(next->graces.size());
        return room + dotRoom * symbol.value.dots;
    }

    const Score& score;
    const SheetLayout& layout;
    std::span<const double> texts;
};

/// From one sign of a page to the next, or to its end.
struct Interval {
    double from = 0.0, to = 0.0; ///< ticks
    double least = 0.0;          ///< staff spaces
    double width = 0.0;
};

std::vector<Interval> intervalsOf(const Score& score, const SheetLayout& layout, const Page& page) {
    std::vector<Interval> intervals;
    for (int bar = page.firstBar; bar < page.firstBar + page.barCount; ++bar)
        for (const SheetSymbol& symbol : layout.bars[static_cast<std::size_t>(bar)].symbols) {
            const double tick = tickOf(score, layout, symbol);
            if (tick < static_cast<double>(page.start) || tick >= static_cast<double>(page.end))
                continue;
            if (!intervals.empty())
                intervals.back().to = tick;
            intervals.push_back({tick, static_cast<double>(page.end),
                                 (symbol.note < 0 ? leastRoom : clearRoom) + dotRoom * symbol.value.dots});
        }
    if (intervals.empty() || intervals.front().from > static_cast<double>(page.start))
        intervals.insert(intervals.begin(),
                         {static_cast<double>(page.start),
                          intervals.empty() ? static_cast<double>(page.end) : intervals.front().from});
    return intervals;
}

/// In proportion to time; a long rest at the end has less.
void shareByTime(const Score& score, const Page& page, double room, std::vector<Interval>& intervals) {
    const auto start = static_cast<double>(page.start);
    const auto end = static_cast<double>(page.end);
    double played = end;
    double notesRoom = room;
    if (page.closesSpan) {
        const auto spanEnd = static_cast<double>(score.spans[static_cast<std::size_t>(page.span)].end);
        if (spanEnd > start && end - spanEnd >= longRest * (end - start)) {
            played = spanEnd;
            notesRoom = (1.0 - squeezedShare) * room;
        }
    }
    const auto rests = static_cast<double>(
        std::ranges::count_if(intervals, [&](const Interval& each) { return each.from >= played; }));
    for (Interval& each : intervals)
        each.width = each.from < played ? notesRoom * (each.to - each.from) / (played - start)
                                        : (room - notesRoom) / rests;
}

/// What is too narrow gets its least width from what is wider than that.
void widen(std::vector<Interval>& intervals) {
    double wanted = 0.0;
    double spare = 0.0;
    for (const Interval& each : intervals)
        (each.width < each.least ? wanted : spare) += std::abs(each.width - each.least);
    const double given = spare > 0.0 ? std::min(1.0, wanted / spare) : 0.0;
    const double got = wanted > 0.0 ? std::min(1.0, spare / wanted) : 0.0;
    for (Interval& each : intervals)
        each.width += (each.width < each.least ? got : given) * (each.least - each.width);
}

} // namespace

std::vector<TimeKnot> naturalSpacing(const Score& score, const SheetLayout& layout, const Page& page,
                                     std::span<const double> textWidths) {
    return Spacer(score, layout, textWidths).space(page);
}

std::vector<TimeKnot> clearSpacing(const Score& score, const SheetLayout& layout, const Page& page,
                                   double width) {
    std::vector<Interval> intervals = intervalsOf(score, layout, page);
    const double room = width - headRoom(layout, page.firstBar) - tailRoom;
    shareByTime(score, page, room, intervals);
    widen(intervals);
    std::vector<TimeKnot> knots;
    double x = 0.0;
    for (const Interval& interval : intervals) {
        knots.push_back({interval.from, x});
        x += interval.width;
    }
    knots.push_back({static_cast<double>(page.end), x});
    return knots;
}

} // namespace valveladder
