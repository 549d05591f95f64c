#pragma once

#include "Engraving/SheetLayout.h"

#include <cstdint>
#include <utility>
#include <vector>

namespace valveladder {

/// The note or rest that was laid out last, to which the next symbol of the same note is tied.
struct LastSymbol {
    int note = -1; ///< as SheetSymbol::note
    std::size_t bar = 0;
};

/// Appends `values` as symbols one after another, from symbol.start on, each to bars[barOf(its start)]; those
/// of one note are tied. Note, ratio and, for the first, graces are those of `symbol`. Returns where they
/// end.
template <class BarOf>
std::int64_t addTied(std::vector<SheetBar>& bars, LastSymbol& last, SheetSymbol symbol,
                     const std::vector<NoteValue>& values, const BarOf& barOf) {
    for (const NoteValue& value : values) {
        symbol.value = value;
        symbol.tiedFrom = symbol.note >= 0 && symbol.note == last.note;
        if (symbol.tiedFrom)
            bars[last.bar].symbols.back().tiedTo = true;
        last = {symbol.note, barOf(symbol.start)};
        bars[last.bar].symbols.push_back(symbol);
        symbol.graces.clear();
        symbol.start += value.length;
    }
    return symbol.start;
}

/// Marks where the tuplets of one bar begin and end: at the end of each run of one ratio, and where
/// `endsGroup(symbol, start of the tuplet)` says so. None reaches over a bar line.
template <class EndsGroup>
void markTuplets(std::vector<SheetSymbol>& symbols, const EndsGroup& endsGroup) {
    bool open = false;
    std::int64_t opened = 0;
    for (std::size_t i = 0; i < symbols.size(); ++i) {
        SheetSymbol& symbol = symbols[i];
        if (!symbol.ratio.isTuplet())
            continue;
        if (!open)
            opened = symbol.start;
        symbol.tupletStart = !open;
        const bool lastOfRun = i + 1 == symbols.size() || !(symbols[i + 1].ratio == symbol.ratio);
        symbol.tupletStop = lastOfRun || endsGroup(std::as_const(symbol), opened);
        open = !symbol.tupletStop;
    }
}

} // namespace valveladder
