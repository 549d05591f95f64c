#include "Plugin/OwnClock.h"

namespace valveladder {

double OwnClock::position() const noexcept {
    return anchorPpq + static_cast<double>(samplesSinceAnchor) * bpm / (60.0 * sampleRate);
}

HostBlock OwnClock::run(HostBlock block, double startPpq, double newBpm) noexcept {
    const bool changed = newBpm != bpm || block.sampleRate != sampleRate;
    if (!running || changed) {
        anchorPpq = running ? position() : startPpq;
        samplesSinceAnchor = 0;
        bpm = newBpm;
        sampleRate = block.sampleRate;
        running = true;
    }
    block.playing = true;
    block.recording = true;
    block.looping = false;
    block.ppq = position();
    block.bpm = bpm;
    block.loopStartPpq.reset();
    block.loopEndPpq.reset();
    samplesSinceAnchor += block.samples;
    return block;
}

} // namespace valveladder
