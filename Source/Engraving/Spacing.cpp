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
constexpr double wholeBarRest = 5.0;
constexpr double dotRoom = 0.6;
constexpr double graceRoom = 1.3;
constexpr double barLineRoom = 1.7;
constexpr double textGap = 0.5;

constexpr double longRest = 1.0 / 3.0; ///< share of a page's time from which a rest is squeezed
constexpr double squeezedShare = 0.15; ///< of the page's width that it then has

class Spacer {
public:
    Spacer(const Score& s, const SheetLayout& l, std::span<const double> t) : score(s), layout(l), texts(t) {}

    std::vector<TimeKnot> space(const Page& page) {
        const double perTick = static_cast<double>(layout.quarter) / ticksPerQuarter;
        std::vector<TimeKnot> knots;
        double x = 0.0;
        for (int index = page.firstBar; index < page.firstBar + page.barCount; ++index) {
            const SheetBar& bar = layout.bars[static_cast<std::size_t>(index)];
            for (std::size_t i = 0; i < bar.symbols.size(); ++i) {
                const double tick = static_cast<double>(bar.symbols[i].start) / perTick +
                                    static_cast<double>(score.countInTicks);
                knots.push_back({tick, x});
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

} // namespace

std::vector<TimeKnot> naturalSpacing(const Score& score, const SheetLayout& layout, const Page& page,
                                     std::span<const double> textWidths) {
    return Spacer(score, layout, textWidths).space(page);
}

std::vector<TimeKnot> squeezedRest(const Score& score, const SheetLayout& layout, const Page& page) {
    const Tick played = score.spans[static_cast<std::size_t>(page.span)].end;
    const auto rest = static_cast<double>(page.end - played);
    if (!page.closesSpan || rest < longRest * static_cast<double>(page.end - page.start))
        return {};
    std::vector<double> rests; // where each sign begins
    const double perTick = static_cast<double>(layout.quarter) / ticksPerQuarter;
    for (int bar = page.firstBar; bar < page.firstBar + page.barCount; ++bar)
        for (const SheetSymbol& symbol : layout.bars[static_cast<std::size_t>(bar)].symbols)
            if (const double tick =
                    static_cast<double>(symbol.start) / perTick + static_cast<double>(score.countInTicks);
                tick > static_cast<double>(played) && tick < static_cast<double>(page.end))
                rests.push_back(tick);
    std::vector<TimeKnot> knots{{static_cast<double>(page.start), 0.0},
                                {static_cast<double>(played), 1.0 - squeezedShare}};
    for (std::size_t i = 0; i < rests.size(); ++i)
        knots.push_back({rests[i], 1.0 - squeezedShare +
                                       squeezedShare * static_cast<double>(i + 1) /
                                           static_cast<double>(rests.size() + 1)});
    knots.push_back({static_cast<double>(page.end), 1.0});
    return knots;
}

} // namespace valveladder
