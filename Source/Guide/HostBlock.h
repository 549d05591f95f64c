#pragma once

#include <cstdint>
#include <optional>

namespace valveladder {

/// What a host says about one audio block. Plain data; every field that a host may leave out is optional. The
/// only place that knows the host's own format is the Plugin room.
struct HostBlock {
    double sampleRate = 48000.0;
    int samples = 0; ///< block length
    bool playing = false;
    bool recording = false;
    bool looping = false;
    bool bypassed = false;
    bool offline = false;
    std::optional<double> ppq;         ///< position of the block's first sample, quarters
    std::optional<double> bpm;         ///< quarters a minute
    std::optional<std::int64_t> frame; ///< of the block's first sample, as the host counts on its time line
    /// By that count and the position it was played on to this block from the one before.
    bool playedOn = false;
    std::optional<double> loopStartPpq;
    std::optional<double> loopEndPpq;
    std::optional<int> meterBeats;
    std::optional<int> meterUnit;
};

} // namespace valveladder
