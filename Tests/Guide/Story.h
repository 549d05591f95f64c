#pragma once

#include "Guide/Guide.h"

#include <cstdint>
#include <memory>
#include <random>
#include <vector>

namespace valveladder::test {

/// One call of a host.
struct Step {
    HostBlock block;
    const GuideTrack* track = nullptr;
    GuideSettings settings;
};

/// A stretch of samples in which the host's position ran on without a break and nothing was switched, as the
/// host knows it: the truth that the guide is checked against. Position by exact linear tempo.
struct Stretch {
    std::int64_t from = 0; ///< samples of the story, [from, to)
    std::int64_t to = 0;
    bool rolling = false;
    bool positionFollows = false; ///< the position goes on from the stretch before
    bool follows = false;         ///< position and track do
    double ppq = 0.0;             ///< at `from`
    double bpm = 120.0;           ///< at `from`
    double bpmPerSample = 0.0;
    double rate = 48000.0;
    double tolerance = 1.0; ///< samples within which an event must lie
    const GuideTrack* track = nullptr;
    GuideSettings settings;

    [[nodiscard]] double quartersAfter(double samples) const {
        return (bpm + 0.5 * bpmPerSample * samples) * samples / (60.0 * rate);
    }
    /// Sample of the story at which the host is at `position`; meaningful inside the stretch.
    [[nodiscard]] double sampleAt(double position) const;
};

struct Story {
    std::vector<Step> steps;
    std::vector<Stretch> stretches; ///< without gap
};

/// A random host: rates 44.1-192 kHz, blocks 1-4096, jumps, loops of hosts that split and of hosts that wrap
/// inside a block, stops, bypass, rubbish, tempo changes and ramps, meter changes, tracks swapped and parts
/// switched in mid-play. Ends stopped.
[[nodiscard]] Story randomStory(std::mt19937_64& random,
                                const std::vector<std::unique_ptr<GuideTrack>>& tracks);

} // namespace valveladder::test
