#include "Guide/HostTime.h"

#include "Tempo/SampleTime.h"

#include <algorithm>

namespace valveladder {

namespace {

constexpr double minLoopQuarters = 1.0 / 32.0;
constexpr double slackSamples = 2.0;
constexpr double slackShare = 0.1;
constexpr double maxShareQuarters = 1.0 / 16.0;
constexpr double leastPlayed = 0.25; ///< of the block, where it was played on at another tempo than was told
constexpr double mostPlayed = 1.75;

bool loops(const HostBlock& block) {
    return block.looping && block.loopStartPpq && block.loopEndPpq && usablePpq(*block.loopStartPpq) &&
           usablePpq(*block.loopEndPpq) && *block.loopEndPpq - *block.loopStartPpq >= minLoopQuarters;
}

} // namespace

std::int64_t BlockTime::offsetOf(double position) const noexcept {
    return nearestSample((position - ppq) * samplesPerQuarter);
}

std::optional<BlockTime> blockTime(const HostBlock& block) noexcept {
    if (!block.playing || block.bypassed || block.samples <= 0 || !block.ppq || !block.bpm)
        return std::nullopt;
    if (!usablePpq(*block.ppq) || !usableBpm(*block.bpm) || !usableSampleRate(block.sampleRate))
        return std::nullopt;
    return BlockTime{*block.ppq, *block.bpm, samplesPerQuarter(*block.bpm, block.sampleRate), block.samples,
                     block.playedOn};
}

std::optional<LoopSplit> splitAtLoopEnd(const HostBlock& block) noexcept {
    if (!loops(block))
        return std::nullopt;
    const std::optional<BlockTime> time = blockTime(block);
    if (!time)
        return std::nullopt;
    const double exact = (*block.loopEndPpq - time->ppq) * time->samplesPerQuarter;
    if (exact <= 0.0)
        return std::nullopt;
    const std::int64_t wrap = nearestSample(exact);
    if (wrap >= block.samples)
        return std::nullopt;
    const double afterWrap = (static_cast<double>(wrap) - exact) / time->samplesPerQuarter;
    HostBlock next = block;
    next.ppq = *block.loopStartPpq + afterWrap;
    next.samples = block.samples - static_cast<int>(wrap);
    next.playedOn = false;
    if (wrap == 0)
        return splitAtLoopEnd(next).value_or(LoopSplit{next, std::nullopt});
    LoopSplit split{block, next};
    split.head.samples = static_cast<int>(wrap);
    return split;
}

bool Continuity::follows(const BlockTime& block) const noexcept {
    if (!last)
        return false;
    const double here = last->quarters();
    const double ifTempoCameAtOnce = here * block.bpm / last->bpm;
    const double moved = block.ppq - last->ppq;
    const double least = block.playedOn ? leastPlayed : 1.0, most = block.playedOn ? mostPlayed : 1.0;
    const double slack = std::max({slackSamples / block.samplesPerQuarter,
                                   std::min(slackShare * here, maxShareQuarters), positionSlackQuarters});
    return moved >= least * std::min(here, ifTempoCameAtOnce) - slack &&
           moved <= most * std::max(here, ifTempoCameAtOnce) + slack;
}

} // namespace valveladder
