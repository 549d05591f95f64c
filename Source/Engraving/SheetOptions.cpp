#include "Engraving/SheetOptions.h"

#include "Valves/Fingering.h"

#include <cmath>

namespace valveladder {

namespace {

/// An alternate further from equal temperament than this is not printed: it would only tempt.
constexpr double printedAlternateCents = 35.0;

} // namespace

std::optional<Combination> printedAlternate(const Instrument& instrument, const ScoreNote& note) {
    for (const Fingering& fingering : fingerings(instrument, note.written))
        if (fingering.combination != note.combination && std::abs(fingering.cents) <= printedAlternateCents)
            return fingering.combination;
    return std::nullopt;
}

} // namespace valveladder
