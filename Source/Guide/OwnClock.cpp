#include "Guide/OwnClock.h"

#include "Tempo/SampleTime.h"

#include <cmath>

namespace valveladder {

namespace {

// A position this close before a boundary is on it.
constexpr double nothingQuarters = 1.0e-9;

/// The first lap boundary at or after `ppq`; the start itself before the start.
double nextBoundary(double ppq, double startPpq, double lapQuarters) {
    if (ppq <= startPpq)
        return startPpq;
    return startPpq + lapQuarters * std::ceil((ppq - startPpq) / lapQuarters - nothingQuarters);
}

} // namespace

bool OwnClock::start(double ppq, double bpm) noexcept {
    if (!usablePpq(ppq) || !usableBpm(bpm))
        return false;
    rolling = true;
    tempo = wanted = bpm;
    anchor(ppq);
    return true;
}

bool OwnClock::requestTempo(double bpm) noexcept {
    if (!usableBpm(bpm))
        return false;
    wanted = bpm;
    return true;
}

HostBlock OwnClock::lead(HostBlock block, double startPpq, double lapQuarters) noexcept {
    block.playing = rolling && usableSampleRate(block.sampleRate);
    block.looping = false;
    if (!block.playing)
        return block;
    if (block.sampleRate != rate) {
        anchor(position());
        rate = block.sampleRate;
    }
    takeUpTempo(startPpq, lapQuarters);
    block.ppq = position();
    block.bpm = tempo;
    if (block.samples > 0)
        advance(block.samples, startPpq, lapQuarters);
    return block;
}

/// Takes a wanted tempo up where the clock stands on a lap boundary, or there are no laps.
void OwnClock::takeUpTempo(double startPpq, double lapQuarters) noexcept {
    if (wanted == tempo)
        return;
    const double here = position();
    const bool laps = lapQuarters > 0.0 && std::isfinite(lapQuarters) && usablePpq(startPpq);
    if (laps && nextBoundary(here, startPpq, lapQuarters) - here >= nothingQuarters)
        return;
    anchor(here);
    tempo = wanted;
}

void OwnClock::advance(int samples, double startPpq, double lapQuarters) noexcept {
    const double here = position();
    sinceAnchor += samples;
    if (wanted == tempo)
        return;
    const double boundary = nextBoundary(here, startPpq, lapQuarters);
    const double after = position() - boundary;
    if (after < 0.0)
        return;
    // The part of the block beyond the boundary took the same samples at the new tempo.
    anchor(boundary + after * wanted / tempo);
    tempo = wanted;
}

double OwnClock::position() const noexcept {
    return anchorPpq + static_cast<double>(sinceAnchor) / samplesPerQuarter(tempo, rate);
}

void OwnClock::anchor(double ppq) noexcept {
    anchorPpq = ppq;
    sinceAnchor = 0;
}

} // namespace valveladder
