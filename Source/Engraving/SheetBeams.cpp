#include "Engraving/SheetBeams.h"

#include <algorithm>

namespace valveladder {

namespace {

/// Flags that a symbol would have alone; 0 for rests.
int flags(const SheetSymbol& symbol) {
    return symbol.note < 0 ? 0 : std::max(0, symbol.value.power - 2);
}

void beamGroup(std::vector<SheetSymbol>& symbols, std::size_t from, std::size_t to) {
    for (std::size_t i = from; i < to; ++i)
        for (int level = 1; level <= flags(symbols[i]); ++level) {
            const bool before = i > from && flags(symbols[i - 1]) >= level;
            const bool after = i + 1 < to && flags(symbols[i + 1]) >= level;
            const BeamPart alone = i == from ? BeamPart::forwardHook : BeamPart::backwardHook;
            symbols[i].beams.push_back(before ? (after ? BeamPart::through : BeamPart::end)
                                              : (after ? BeamPart::begin : alone));
        }
}

} // namespace

void beamBar(std::vector<SheetSymbol>& symbols, std::int64_t beat) {
    const std::int64_t origin = symbols.empty() ? 0 : symbols.front().start;
    const auto beatOf = [&](const SheetSymbol& symbol) { return (symbol.start - origin) / beat; };
    std::size_t from = 0;
    while (from < symbols.size()) {
        std::size_t to = from;
        while (to < symbols.size() && flags(symbols[to]) > 0 && beatOf(symbols[to]) == beatOf(symbols[from]))
            ++to;
        if (to - from > 1)
            beamGroup(symbols, from, to);
        from = std::max(to, from + 1);
    }
}

} // namespace valveladder
