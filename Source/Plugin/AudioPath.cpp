#include "Plugin/AudioPath.h"

namespace valveladder {

namespace {

/// Quarters from the host's zero to the bar in which the drill begins.
double startPpq(const Controls& controls, const GuideTrack* track) {
    const Meter meter = track != nullptr ? track->score().meter : Meter{};
    return static_cast<double>(controls.startBar - 1) * meter.barTicks() / ticksPerQuarter;
}

} // namespace

HostBlock AudioPath::leadingBlock(const Input& input, const GuideSettings& settings,
                                  const GuideTrack* track) noexcept {
    const bool hostLeads = input.host.playing && input.host.ppq.has_value();
    own = input.controls.runOwnClock && !hostLeads && !input.host.bypassed;
    if (!own) {
        ownClock.stop();
        return input.host;
    }
    const bool planned =
        input.controls.tempoFrom == TempoFrom::plan && track != nullptr && track->score().bpm > 0.0;
    return ownClock.run(input.host, settings.startPpq, planned ? track->score().bpm : input.controls.ownBpm);
}

void AudioPath::show(const HostBlock& block, bool hostHasPosition) noexcept {
    clock.ppq.store(block.ppq.value_or(0.0), std::memory_order_relaxed);
    clock.bpm.store(block.bpm.value_or(0.0), std::memory_order_relaxed);
    clock.playing.store(block.playing, std::memory_order_relaxed);
    clock.ownClock.store(own, std::memory_order_relaxed);
    clock.hostHasPosition.store(hostHasPosition, std::memory_order_relaxed);
}

std::span<const MidiEvent> AudioPath::process(const Input& input) noexcept {
    const GuideTrack* track = tracks.current();
    FeedBlock block;
    block.startSample = samplesDone;
    block.controls = input.controls;
    block.controls.guide.startPpq = startPpq(input.controls, track);
    block.host = leadingBlock(input, block.controls.guide, track);
    block.ownClock = own;
    block.marks = input.marks;
    block.handPresses = input.handPresses;
    feed.push(block, input.midi, input.sound, input.waitForWorker);
    samplesDone += block.host.samples;
    show(block.host, input.host.ppq.has_value());
    return guide.process(block.host, track, block.controls.guide);
}

} // namespace valveladder
