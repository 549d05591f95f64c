#include "Plugin/ToldBeat.h"

#include <algorithm>
#include <cmath>

namespace valveladder {

namespace {

/// Hosts round to a 1920th of a beat or finer (common practice, no source), and send 32-bit floats.
constexpr double slack = 2.0e-3;
/// Reports further apart do not show where a beat ended.
constexpr double closeBeats = 0.25;

double fraction(double beat) {
    return beat - std::floor(beat);
}

} // namespace

void ToldBeat::look(const Heard& heard) noexcept {
    const double behind = fraction(heard.barBeat);
    if (heard.beatQuarters < 1.0 && behind > heard.beatQuarters + slack && behind < 1.0 - slack)
        seen = false; // no quarter's part of a beat is as large
    if (!last || !heard.follows || last->beatQuarters != heard.beatQuarters || heard.beatsSince > closeBeats)
        return;
    const double before = fraction(last->barBeat);
    const bool beatPassed = heard.bar != last->bar || std::floor(heard.barBeat) > std::floor(last->barBeat);
    if (heard.beatQuarters < 1.0 && beatPassed && before > heard.beatQuarters / 2.0 &&
        before <= heard.beatQuarters + slack)
        seen = true; // it ended before it was whole
    if (heard.beatQuarters > 1.0 && heard.bar == last->bar && heard.barBeat < last->barBeat - slack)
        seen = true; // it went back
}

void ToldBeat::lean(const Heard& heard) noexcept {
    if (!heard.held)
        return;
    const double asBeats = heard.barBeat * heard.beatQuarters;
    const double asQuarters = std::floor(heard.barBeat) * heard.beatQuarters + fraction(heard.barBeat);
    const double off = std::abs(asBeats - *heard.held), offQuarters = std::abs(asQuarters - *heard.held);
    if (std::abs(asBeats - asQuarters) > slack &&
        std::max(off, offQuarters) > 2.0 * std::min(off, offQuarters))
        leaning = offQuarters < off;
}

double ToldBeat::intoBar(const Heard& heard) noexcept {
    if (heard.beatQuarters == 1.0) {
        last = heard;
        return heard.barBeat;
    }
    look(heard);
    lean(heard);
    last = heard;
    if (!seen.value_or(expected || leaning))
        return heard.barBeat * heard.beatQuarters;
    const double whole = std::floor(heard.barBeat);
    const double behind = fraction(heard.barBeat);
    double best = whole * heard.beatQuarters + std::min(behind, heard.beatQuarters);
    // Of a long beat some quarters may be among the whole beats.
    for (double more = 1.0; more <= whole && more + behind < heard.beatQuarters; more += 1.0) {
        const double other = (whole - more) * heard.beatQuarters + more + behind;
        if (heard.held && std::abs(other - *heard.held) < std::abs(best - *heard.held))
            best = other;
    }
    return best;
}

} // namespace valveladder
