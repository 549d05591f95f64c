#include "Plugin/AudioPath.h"

namespace valveladder {

namespace {

/// Quarters from the host's zero to the bar in which the drill begins.
double startPpq(const Controls& controls, const DrillInUse* drill) {
    const Meter meter = drill != nullptr ? drill->track->score().meter : Meter{};
    return static_cast<double>(controls.startBar - 1) * meter.barTicks() / ticksPerQuarter;
}

} // namespace

void AudioPath::lead(FeedBlock& block, const Input& input, const DrillInUse* drill) noexcept {
    const bool hostRolls = input.host.playing && input.host.ppq.has_value();
    block.host = input.host;
    if (!input.controls.runOwnClock || hostRolls || input.host.bypassed) {
        ownClock.stop();
        block.clock = input.host.ppq ? Clock::host : Clock::none;
        return;
    }
    const bool planned = input.controls.tempoFrom == TempoFrom::plan && drill != nullptr;
    const double bpm = planned ? drill->plannedBpm : input.controls.ownBpm;
    block.host = ownClock.run(input.host, block.controls.guide.startPpq, bpm);
    block.clock = Clock::own;
}

void AudioPath::show(const FeedBlock& block) noexcept {
    clock.ppq.store(block.host.ppq.value_or(0.0), std::memory_order_relaxed);
    clock.startPpq.store(block.controls.guide.startPpq, std::memory_order_relaxed);
    clock.bpm.store(block.host.bpm.value_or(0.0), std::memory_order_relaxed);
    clock.playing.store(block.host.playing, std::memory_order_relaxed);
    clock.clock.store(block.clock, std::memory_order_relaxed);
}

std::span<const MidiEvent> AudioPath::process(const Input& input) noexcept {
    const DrillInUse* drill = drills.current();
    const GuideTrack* track = drill != nullptr ? drill->track.get() : nullptr;
    FeedBlock block;
    block.startSample = samplesDone;
    block.controls = input.controls;
    block.controls.guide.startPpq = startPpq(input.controls, drill);
    block.trackId = track != nullptr ? track->id() : 0;
    block.marks = input.marks;
    block.handPresses = input.handPresses;
    lead(block, input, drill);
    block.recordingUnknown = input.recordingUnknown && block.clock == Clock::host;
    feed.push(block, input.midi, input.sound, input.waitForWorker);
    samplesDone += block.host.samples;
    show(block);
    return guide.process(block.host, track, block.controls.guide);
}

} // namespace valveladder
