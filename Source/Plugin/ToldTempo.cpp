#include "Plugin/ToldTempo.h"

#include "Base/Units.h"
#include "Tempo/SampleTime.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <utility>

namespace valveladder {

namespace {

/// Positions closer than this in time are too coarsely told to give a tempo.
constexpr double leastSeconds = 0.04;
/// Tempos are told as 32-bit floats at least.
constexpr double tempoSlack = 1.0e-4;
/// Note values are a factor of two apart: this much tells them from one another.
constexpr double noteValueSlack = 0.1;
/// Over as many quarters the host's rounding is small against a ramp's slope.
constexpr double rampQuarters = 0.25;
/// Note values that tempos are written with, quarters: the undotted ones. With dotted ones among them a ramp
/// would sooner be taken for one.
constexpr std::array<double, 6> noteValues{1.0, 0.5, 2.0, 0.25, 4.0, 0.125};

double slackOf(double quarters) {
    return positionSlackQuarters / std::abs(quarters) + tempoSlack;
}

bool same(double a, double b) {
    return std::abs(a - b) <= tempoSlack * b;
}

} // namespace

double ToldTempo::noteValue(double beatQuarters) const noexcept {
    // What equals the meter's beat is taken to be that, as the extension has it.
    return !settled || same(settled->value, settled->beatQuarters) ? beatQuarters : settled->value;
}

double ToldTempo::expected(double bpm, double beatQuarters) const noexcept {
    return bpm * noteValue(beatQuarters);
}

std::optional<ToldTempo::Played> ToldTempo::between(const Heard& from, const Heard& to) noexcept {
    const auto frames = static_cast<double>(to.frame - from.frame);
    const Played played{(to.ppq - from.ppq) * secondsPerMinute * to.sampleRate / frames, to.ppq - from.ppq};
    if (frames == 0.0 || played.quarters == 0.0 || !usableBpm(played.bpm))
        return std::nullopt;
    return played;
}

void ToldTempo::begin(const Heard& heard) noexcept {
    older.reset();
    newer = heard;
    compared = false;
    rampBefore.reset();
}

/// What a change of the meter's beat does to the figure tells whether it counts that beat: music goes on at
/// its speed through most changes of meter.
void ToldTempo::compareMeters(const Heard& heard) noexcept {
    if (!last || same(heard.beatQuarters, last->beatQuarters))
        return;
    if (heard.bpm == last->bpm)
        settled = Settled{noteValue(last->beatQuarters), heard.beatQuarters};
    else if (same(heard.bpm * heard.beatQuarters, last->bpm * last->beatQuarters))
        settled = Settled{heard.beatQuarters, heard.beatQuarters};
}

/// Without having been played, too, two places of one tempo tell its note value. The start of the session is
/// taken for the first.
void ToldTempo::compareUnplayed(const Heard& heard, bool sameTempo) noexcept {
    const Heard zero{heard.bpm, 0, 0.0, heard.sampleRate, false, heard.beatQuarters};
    if (last && (heard.follows || !sameTempo))
        return;
    const auto apart = between(last ? *last : zero, heard);
    if (apart && slackOf(apart->quarters) <= noteValueSlack)
        settle(heard, *apart);
}

/// What was played since an earlier report of the same tempo, if that is long enough ago.
std::optional<ToldTempo::Played> ToldTempo::playedUpTo(const Heard& heard) noexcept {
    const double least = leastSeconds * heard.sampleRate;
    const bool enough = static_cast<double>(heard.frame - newer->frame) >= least;
    const std::optional<Heard> from = enough ? newer : older;
    if (enough) {
        older = newer;
        newer = heard;
    }
    return from ? between(*from, heard) : std::nullopt;
}

double ToldTempo::hear(const Heard& heard) noexcept {
    compareMeters(heard);
    const bool sameTempo = last && heard.bpm == last->bpm && heard.beatQuarters == last->beatQuarters;
    if (!heard.follows || !sameTempo || !newer) {
        begin(heard);
        compareUnplayed(heard, sameTempo);
    }
    last = heard;
    const auto played = playedUpTo(heard);
    if (!played)
        return expected(heard.bpm, heard.beatQuarters);
    if (!std::exchange(compared, true)) // later it may be a ramp that passes by
        settle(heard, *played);
    const double told = expected(heard.bpm, heard.beatQuarters);
    if (std::abs(told / played->bpm - 1.0) <= slackOf(played->quarters)) {
        rampBefore.reset();
        return told;
    }
    return onRamp(*played, told);
}

void ToldTempo::settle(const Heard& heard, const Played& played) noexcept {
    if (counts == Counts::quarters)
        return;
    const double slack = std::min(slackOf(played.quarters), noteValueSlack);
    const auto agrees = [&](double value) { return std::abs(heard.bpm * value / played.bpm - 1.0) <= slack; };
    if (agrees(noteValue(heard.beatQuarters)))
        return;
    for (const double value : noteValues)
        if (agrees(value)) {
            settled = Settled{value, heard.beatQuarters};
            return;
        }
}

/// What was played lies half a stretch back, and as far ahead again goes the next.
double ToldTempo::onRamp(const Played& played, double told) noexcept {
    const double rise = rampBefore ? played.bpm - *rampBefore : 2.0 * (played.bpm - told);
    rampBefore = played.bpm;
    if (played.quarters < rampQuarters)
        return played.bpm;
    return std::clamp(played.bpm + rise, minHostBpm, maxHostBpm);
}

} // namespace valveladder
