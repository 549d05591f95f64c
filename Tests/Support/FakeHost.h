#pragma once

#include "Guide/HostBlock.h"

#include <cstdint>

namespace valveladder::test {

/// A host that rolls at one tempo; fields may be set in between to make it do anything else.
struct FakeHost {
    HostBlock block;
    std::int64_t sample = 0; ///< of the session

    explicit FakeHost(double bpm = 120.0, double sampleRate = 48000.0, double ppq = 0.0) {
        block.sampleRate = sampleRate;
        block.bpm = bpm;
        block.ppq = ppq;
        block.playing = true;
    }

    /// The next block; the position moves on only while the host plays.
    [[nodiscard]] HostBlock next(int samples) {
        HostBlock now = block;
        now.samples = samples;
        sample += samples;
        if (block.playing && block.ppq && block.bpm)
            *block.ppq += samples * *block.bpm / 60.0 / block.sampleRate;
        return now;
    }
};

} // namespace valveladder::test
