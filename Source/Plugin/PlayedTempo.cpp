#include "Plugin/PlayedTempo.h"

#include "Guide/HostTime.h"
#include "Tempo/SampleTime.h"

#include <algorithm>
#include <cmath>

namespace valveladder {

namespace {

/// Hosts count whole samples.
constexpr double frameSlack = 1.5;
/// A host that leaves more out, or less, went somewhere else.
constexpr double leastSpeed = 0.25, mostSpeed = 1.75;

bool between(double value, double least, double most) {
    return value >= least && value <= most;
}

} // namespace

double PlayedTempo::speedBetween(std::int64_t frame, std::int64_t fromFrame,
                                 std::int64_t fromSample) const noexcept {
    return (static_cast<double>(frame) - static_cast<double>(fromFrame)) /
           static_cast<double>(samplesDone - fromSample);
}

bool PlayedTempo::playedOn(const HostBlock& block) const noexcept {
    if (!last || last->block.sampleRate != block.sampleRate)
        return false;
    const double moved = *block.ppq - *last->block.ppq;
    const double told = last->block.samples / samplesPerQuarter(*last->block.bpm, block.sampleRate);
    const double after = told * *block.bpm / *last->block.bpm;
    if (!between(moved, leastSpeed * std::min(told, after) - positionSlackQuarters,
                 mostSpeed * std::max(told, after) + positionSlackQuarters))
        return false;
    if (std::abs(static_cast<double>(*block.frame) - run.due(samplesDone)) <= frameSlack)
        return true;
    const double frames = static_cast<double>(*block.frame) - static_cast<double>(*last->block.frame);
    return !block.looping && between(frames, leastSpeed * last->block.samples - frameSlack,
                                     mostSpeed * last->block.samples + frameSlack);
}

/// The longer a stretch of one speed, the better it is known; until it is, each better figure counts.
void PlayedTempo::followSpeed(std::int64_t frame) noexcept {
    const double sinceLast = static_cast<double>(last->block.samples) * run.speed;
    if (std::abs(static_cast<double>(frame) - run.due(samplesDone)) <= 1.0)
        return;
    const double moved = static_cast<double>(frame) - static_cast<double>(*last->block.frame);
    if (std::abs(moved - sinceLast) > frameSlack)
        run = {*last->block.frame, last->sample, 1.0};
    run.speed = speedBetween(frame, run.frame, run.sample);
}

HostBlock PlayedTempo::complete(HostBlock block) noexcept {
    if (block.samples <= 0)
        return block;
    if (!block.frame || !blockTime(block)) {
        last.reset();
    } else {
        const HostBlock told = block; // as the host says it
        block.playedOn = playedOn(block);
        if (block.playedOn)
            followSpeed(*block.frame);
        else
            run = {*block.frame, samplesDone, 1.0};
        const double written = *block.bpm * run.speed;
        block.bpm = tempo.hear({usableBpm(written) ? written : *block.bpm, samplesDone, *block.ppq,
                                block.sampleRate, block.playedOn, 1.0});
        last = {told, samplesDone};
        last->block.bpm = block.bpm;
    }
    samplesDone += block.samples;
    return block;
}

} // namespace valveladder
