#include "Plugin/AudioPath.h"

#include <utility>

namespace valveladder {

namespace {

/// Quarters from the host's zero to the bar in which the drill begins.
double startPpq(const Controls& controls, const DrillInUse* drill) {
    const Meter meter = drill != nullptr ? drill->track->score().meter : Meter{};
    return static_cast<double>(controls.startBar - 1) * meter.barTicks() / ticksPerQuarter;
}

/// Takes run only while the clock does, and by default only while the host records.
bool takeMayRun(const FeedBlock& block) {
    const bool byRecording = block.way == TakeWay::recordingPass && !block.recordingUnknown;
    return block.host.playing && (block.host.recording || !byRecording);
}

} // namespace

void AudioPath::lead(FeedBlock& block, const Input& input, const DrillInUse* drill) noexcept {
    const bool hostRolls = input.host.playing && input.host.ppq.has_value();
    block.host = input.host;
    if (!input.controls.runOwnClock || hostRolls || input.host.bypassed) {
        ownClock.stop();
        link.stop();
        if (hostRolls)
            repeatWanted = false; // a host cannot be taken back
        block.clock = input.host.ppq ? Clock::host : Clock::none;
        return;
    }
    leadOurselves(block, input, drill);
}

void AudioPath::leadOurselves(FeedBlock& block, const Input& input, const DrillInUse* drill) noexcept {
    const Score* score = drill != nullptr ? &drill->track->score() : nullptr;
    const double start = block.guide.startPpq;
    if (link.enabled()) {
        block.host = link.lead(input.host, start, quartersOf(score != nullptr ? score->meter.barTicks() : 0));
        block.clock = Clock::link;
        repeatWanted = false;
        return;
    }
    link.stop();
    const bool planned = input.controls.tempoFrom == TempoFrom::plan && drill != nullptr;
    const double bpm = planned ? drill->plannedBpm : input.controls.ownBpm;
    // Back at the tempo it had: the planned one is taken up at the next lap.
    const bool back = std::exchange(repeatWanted, false) && goBack(block, drill);
    if (!back && ownClock.running())
        ownClock.requestTempo(bpm);
    else if (!back) {
        ownClock.start(start, bpm);
        wentBack = {};
    }
    block.host = ownClock.lead(input.host, start, score != nullptr ? quartersOf(score->length) : 0.0);
    // There is no host that records: a run of our own clock counts as a recording pass.
    block.host.recording = block.host.playing;
    block.clock = Clock::own;
    if (block.host.playing)
        lastOwn = {*block.host.ppq, *block.host.bpm, block.trackId};
}

bool AudioPath::goBack(const FeedBlock& block, const DrillInUse* drill) noexcept {
    if (drill == nullptr || lastOwn.bpm <= 0.0 || lastOwn.trackId != block.trackId)
        return false;
    // Pressed again before its first note, it is the same rung that is wanted, not the one before.
    if (!wentBack.waitsAt(lastOwn.ppq))
        wentBack = rungAgain(drill->track->score(), block.guide, lastOwn.ppq);
    return ownClock.start(wentBack.ppq, lastOwn.bpm);
}

void AudioPath::show(const FeedBlock& block) noexcept {
    clock.ppq.store(block.host.ppq.value_or(0.0), std::memory_order_relaxed);
    clock.startPpq.store(block.guide.startPpq, std::memory_order_relaxed);
    clock.bpm.store(block.host.bpm.value_or(0.0), std::memory_order_relaxed);
    clock.playing.store(block.host.playing, std::memory_order_relaxed);
    clock.clock.store(block.clock, std::memory_order_relaxed);
}

std::span<const MidiEvent> AudioPath::process(const Input& input) noexcept {
    const DrillInUse* drill = drills.current();
    const GuideTrack* track = drill != nullptr ? drill->track.get() : nullptr;
    FeedBlock block;
    block.startSample = samplesDone;
    block.guide = input.controls.guide;
    block.way = input.controls.way;
    block.soundThresholdDb = input.controls.soundThresholdDb;
    block.listenChannel = input.controls.listenChannel;
    block.link = input.controls.link;
    block.guide.startPpq = startPpq(input.controls, drill);
    block.trackId = track != nullptr ? track->id() : 0;
    block.marks = input.marks;
    block.handPresses = input.handPresses;
    block.clicksFrom = clicks.follow(samplesDone, input.host.sampleRate);
    repeatWanted = repeatWanted || input.repeats != repeatsSeen;
    repeatsSeen = input.repeats;
    lead(block, input, drill);
    block.recordingUnknown = input.recordingUnknown && block.clock == Clock::host;
    block.positionAssumed = input.positionAssumed && block.clock == Clock::host && block.host.playing;
    freeOutput = !block.host.offline && !block.host.bypassed && block.clicksFrom < 0 && !takeMayRun(block);
    feed.push(block, input.midi, input.sound, input.waitForWorker);
    samplesDone += block.host.samples;
    show(block);
    sound.follow(block.host, track, block.guide, input.controls.sound);
    return guide.process(block.host, track, block.guide);
}

} // namespace valveladder
