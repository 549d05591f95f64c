#include "Plugin/SparsePosition.h"

#include "Base/Units.h"
#include "Tempo/SampleTime.h"

#include <algorithm>
#include <cmath>
#include <utility>

namespace valveladder {

namespace {

/// Hosts tell positions in ticks of a 1920th of a quarter or finer (common practice, no source).
constexpr double tickQuarters = 1.0 / 1920.0;
/// Bars of meters in eighths or longer begin on a multiple of this.
constexpr double barGridQuarters = 0.5;
/// What is told of the place within the bar may be meant in two ways (see ToldBeat) this far apart at most,
/// in meters of eighths.
constexpr double mostInBarDoubt = 0.25;

/// What a division by samplesPerQuarter() gives, with fewer roundings.
double quarters(double samples, double bpm, double sampleRate) {
    return samples * bpm / (secondsPerMinute * sampleRate);
}

/// The told place, or where time has gone by itself within the tick to which the host rounds.
double within(double told, std::optional<double> held) {
    if (!held || std::abs(*held - told) > positionSlackQuarters)
        return told;
    return std::clamp(*held, told - tickQuarters, told + tickQuarters);
}

bool hasBars(const TimeReport& told) {
    return told.bar && told.barBeat && told.beatsPerBar && told.beatUnit && *told.beatsPerBar > 0.0 &&
           *told.beatUnit > 0 && std::isfinite(*told.barBeat) && std::isfinite(*told.beatsPerBar);
}

bool isWhole(double value) {
    return value == std::floor(value);
}

/// Qtractor 0.9.31 was seen to tell so: as the beat its number in the bar, from 1, and as the place within
/// the bar all beats of the bars before.
bool tellsWholeBeats(const TimeReport& told) {
    if (!told.beat || !isWhole(*told.beat) || !isWhole(*told.barBeat) || *told.beat < 1.0 ||
        *told.beat >= *told.beatsPerBar + 1.0)
        return false;
    return *told.barBeat >= *told.beatsPerBar || (*told.bar == 0 && *told.barBeat == 0.0);
}

/// The bar's place by a running count of beats, where the host tells one and beats are quarters. Some hosts
/// count within the bar, and some whole beats only.
std::optional<double> startByBeat(const TimeReport& told) {
    constexpr double same = 1.0e-3;
    if (!told.beat || !std::isfinite(*told.beat) || *told.beatUnit != 4)
        return std::nullopt;
    const double inBar = *told.barBeat;
    if (std::abs(*told.beat - inBar) < same || std::abs(*told.beat - std::floor(inBar)) < same)
        return std::nullopt;
    const bool wholeOnly = isWhole(*told.beat);
    return *told.beat - (wholeOnly ? std::floor(inBar) : inBar);
}

std::optional<int> wholeBeats(std::optional<double> beatsPerBar) {
    if (!beatsPerBar || !(*beatsPerBar >= 1.0) || *beatsPerBar > 1000.0)
        return std::nullopt;
    return static_cast<int>(*beatsPerBar);
}

} // namespace

std::optional<double> SparsePosition::held(std::int64_t samples, double sampleRate) const noexcept {
    if (!anchor || !anchor->ppq || anchor->speed <= 0.0 || !anchor->bpm)
        return anchor ? anchor->ppq : std::nullopt;
    return *anchor->ppq + quarters(static_cast<double>(samples) * anchor->speed, *anchor->bpm, sampleRate);
}

std::optional<double> SparsePosition::framesAhead(const TimeReport& told,
                                                  std::int64_t samples) const noexcept {
    if (!anchor || !anchor->frame || !told.frame || anchor->speed <= 0.0 || told.speed.value_or(0.0) <= 0.0)
        return std::nullopt;
    return static_cast<double>(*told.frame - *anchor->frame) - static_cast<double>(samples) * anchor->speed;
}

bool SparsePosition::follows(const TimeReport& told, std::int64_t samples, double sampleRate) const noexcept {
    const auto ahead = framesAhead(told, samples);
    if (!ahead || std::abs(*ahead) <= 1.0)
        return ahead.has_value();
    const bool mayReadAhead = hasBars(told) && tellsWholeBeats(told) && told.beatsPerMinute;
    return mayReadAhead && *ahead > 0.0 &&
           quarters(*ahead, *told.beatsPerMinute, sampleRate) < 4.0 / *told.beatUnit;
}

HostBlock SparsePosition::complete(const HostBlock& facts, std::span<const TimeReport> reports) noexcept {
    HostBlock block = facts;
    auto report = reports.begin();
    block.playedOn = std::exchange(playedOn, true) && anchor && anchor->speed > 0.0;
    if (report != reports.end() && (report->offset <= 0 || !anchor)) {
        block.playedOn = block.playedOn && follows(*report, samplesSince, facts.sampleRate);
        take(*report, samplesSince, facts.sampleRate);
        samplesSince = -static_cast<std::int64_t>(std::max(0, report->offset));
        ++report;
    }
    if (!anchor)
        return block;
    block.playing = anchor->speed > 0.0;
    block.ppq = held(samplesSince, facts.sampleRate);
    if (anchor->bpm)
        block.bpm = block.playing ? *anchor->bpm * anchor->speed : *anchor->bpm;
    block.meterBeats = wholeBeats(anchor->beatsPerBar);
    if (block.meterBeats && anchor->beatUnit && *anchor->beatUnit > 0)
        block.meterUnit = anchor->beatUnit;
    else
        block.meterBeats.reset();
    for (; report != reports.end(); ++report) { // what changes inside the block
        const int offset = std::clamp(report->offset, 0, facts.samples);
        playedOn = playedOn && follows(*report, samplesSince + offset, facts.sampleRate);
        take(*report, samplesSince + offset, facts.sampleRate);
        samplesSince = -static_cast<std::int64_t>(offset);
    }
    samplesSince += facts.samples;
    samplesBefore = facts.samples;
    return block;
}

void SparsePosition::take(const TimeReport& told, std::int64_t samples, double sampleRate) noexcept {
    Work work(told, sampleRate);
    work.follows = follows(told, samples, sampleRate);
    work.samples = samples;
    if (work.follows) {
        work.held = held(samples, sampleRate);
        if (anchor->toldBpm && told.beatsPerMinute && usableBpm(*told.beatsPerMinute))
            work.heldSlack =
                quarters(samplesBefore, std::abs(*told.beatsPerMinute - *anchor->toldBpm), sampleRate);
    }
    Anchor next;
    next.frame = told.frame;
    if (const auto ahead = framesAhead(told, samples); work.follows && *ahead > 1.0)
        *next.frame -= std::llround(*ahead);
    next.beatsPerBar = told.beatsPerBar;
    next.beatUnit = told.beatUnit;
    next.speed = told.speed.value_or(0.0);
    const bool beforeZero = told.frame && *told.frame < 0; // pre-roll: bars are not told
    if (hasBars(told) && !beforeZero) {
        work.beatQuarters = 4.0 / *told.beatUnit;
        work.barQuarters = *told.beatsPerBar * work.beatQuarters;
        work.wholeBeats = tellsWholeBeats(told);
        work.inBar = (work.wholeBeats ? *told.beat - 1.0 : *told.barBeat) * work.beatQuarters;
        takeBars(work, next);
    } else {
        takeLoose(work, next);
    }
    anchor = next;
}

/// `start` of the bar, where it is known without.
double SparsePosition::intoBar(const Work& work, std::optional<double> start) noexcept {
    if (work.wholeBeats)
        return work.inBar;
    const TimeReport& told = work.told;
    ToldBeat::Heard heard;
    heard.bar = *told.bar;
    heard.barBeat = *told.barBeat;
    heard.beatQuarters = work.beatQuarters;
    heard.follows = work.follows;
    heard.beatsSince =
        quarters(static_cast<double>(work.samples), told.beatsPerMinute.value_or(0.0), work.sampleRate);
    if (start && work.held)
        heard.held = *work.held - *start;
    const auto before = beats.seenBehindPoint();
    const double into = beats.intoBar(heard);
    if (before != beats.seenBehindPoint())
        tempo.forget(); // what was played may have been measured by the wrong places
    return into;
}

void SparsePosition::takeBars(Work& work, Anchor& next) noexcept {
    const TimeReport& told = work.told;
    MeterMap::Place bar;
    if (work.follows)
        bar = placeBar(work);
    work.inBar = intoBar(work, work.follows ? std::optional<double>(bar.start) : std::nullopt);
    if (!work.follows)
        bar = placeBar(work);
    const double place = bar.start + work.inBar;
    next.bar = told.bar;
    next.known = bar.known;
    meters.learn(*told.bar, work.barQuarters, bar);
    if (told.beatsPerMinute && usableBpm(*told.beatsPerMinute)) {
        if (*told.bar == 0)
            bpmAtZero = told.beatsPerMinute;
        next.bpm = work.wholeBeats ? tempo.expected(*told.beatsPerMinute, work.beatQuarters)
                                   : tempo.hear({*told.beatsPerMinute, told.frame.value_or(0), place,
                                                 work.sampleRate, work.follows, work.beatQuarters});
    }
    const bool sameTempo = anchor && anchor->toldBpm == told.beatsPerMinute;
    next.toldBpm = told.beatsPerMinute;
    std::optional<double> exact;
    if (work.follows && sameTempo) // behind a step it is off by what the block before did not know
        exact = work.held;
    else if (!work.follows && next.bpm && told.frame)
        exact = quarters(static_cast<double>(*told.frame), *next.bpm, work.sampleRate);
    next.ppq = work.wholeBeats
                   ? std::clamp(work.held.value_or(exact.value_or(place)), place, place + work.beatQuarters)
                   : within(place, exact);
}

MeterMap::Place SparsePosition::placeBar(const Work& work) const noexcept {
    const TimeReport& told = work.told;
    if (const auto start = work.wholeBeats ? std::nullopt : startByBeat(told))
        return {*start, MeterMap::Known::surely};
    if (work.follows && anchor->bar && *told.bar >= *anchor->bar)
        return settleByTime(work, meters.follow(*anchor->bar, *told.bar));
    const MeterMap::Place counted = meters.find(*told.bar, work.barQuarters);
    if (counted.known == MeterMap::Known::surely)
        return counted;
    return settleByFrame(work, counted);
}

/// Whether the bars since the last report can have been of its meter, by the time that has passed. The one
/// that it spoke of was.
MeterMap::Place SparsePosition::settleByTime(const Work& work, MeterMap::Place counted) const noexcept {
    if (!work.held || work.wholeBeats || *work.told.bar < *anchor->bar + 2)
        return counted;
    const double start = *work.held - work.inBar;
    const double onGrid = std::round(start / barGridQuarters) * barGridQuarters;
    const double slack = tickQuarters + work.heldSlack;
    if (std::abs(start - counted.start) <= mostInBarDoubt + slack || std::abs(start - onGrid) > slack)
        return counted;
    return {onGrid, counted.known};
}

/// Whether the frame, at the tempo told, bears out what was counted, or something better.
MeterMap::Place SparsePosition::settleByFrame(const Work& work, MeterMap::Place counted) const noexcept {
    const TimeReport& told = work.told;
    if (!told.frame || !told.beatsPerMinute || !usableBpm(*told.beatsPerMinute))
        return counted;
    const double bpm = tempo.expected(*told.beatsPerMinute, work.beatQuarters);
    const double start = quarters(static_cast<double>(*told.frame), bpm, work.sampleRate) - work.inBar;
    const double slack = tickQuarters + quarters(1.0, bpm, work.sampleRate);
    const double behindBeat = work.wholeBeats ? work.beatQuarters : 0.0;
    if (start - counted.start >= -slack && start - counted.start <= behindBeat + slack)
        return {counted.start, MeterMap::Known::surely};
    const double onGrid = std::round(start / barGridQuarters) * barGridQuarters;
    const bool barMayBeginThere = !work.wholeBeats && onGrid >= 0.0 && std::abs(start - onGrid) <= slack;
    const bool oneTempo = bpmAtZero && *bpmAtZero == *told.beatsPerMinute;
    if (counted.known == MeterMap::Known::guessed && barMayBeginThere && oneTempo)
        return {onGrid, MeterMap::Known::surely};
    return counted;
}

void SparsePosition::takeLoose(const Work& work, Anchor& next) const noexcept {
    const TimeReport& told = work.told;
    if (told.beatsPerMinute && usableBpm(*told.beatsPerMinute))
        next.bpm = tempo.expected(*told.beatsPerMinute, 1.0);
    if (told.beat && std::isfinite(*told.beat))
        next.ppq = told.beat; // quarters from hosts that tell beats alone
    else if (work.held)
        next.ppq = work.held;
    else if (told.frame && next.bpm)
        next.ppq = quarters(static_cast<double>(*told.frame), *next.bpm, work.sampleRate);
}

} // namespace valveladder
