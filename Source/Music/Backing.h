#pragma once

#include "Score/Score.h"

#include <array>
#include <cstdint>
#include <vector>

namespace valveladder {

enum class Backing : std::uint8_t { click, drone, pad, bass, drums };

/// What plays behind the player. Plain values.
struct BackingSettings {
    bool click = true;
    bool drone = true;     ///< the rung's root held through each of its segments, an octave under the player
    bool pad = false;      ///< root, fifth and octave, held likewise
    bool bass = false;     ///< the root in the segment's rhythm
    bool drums = false;    ///< bass drum on beats, hi-hat in the segment's rhythm, snare on its accents
    bool countIn = true;   ///< with it one lap is the score's; without it the count-in is left out
    int clickChannel = 10; ///< channels 1..16
    int droneChannel = 2;
    int padChannel = 3;
    int bassChannel = 4;
    int drumChannel = 10;

    bool operator==(const BackingSettings&) const = default;
};

/// A short message of the backing; every note-on has its note-off within the lap.
struct BackingEvent {
    Tick tick = 0; ///< from the lap's start
    bool begins = false;
    Backing part = Backing::click;
    std::array<std::uint8_t, 3> bytes{};

    bool operator==(const BackingEvent&) const = default;
};

/// Length of one lap: whole bars, so that it repeats without gap or drift.
[[nodiscard]] Tick backingLength(const Score& score, const BackingSettings& settings);

/// One lap, sorted by tick, what ends before what begins. The root of a rung is its lowest sounding note. Two
/// parts on one channel and key do not overlap, but for a settings' own choice of equal channels.
[[nodiscard]] std::vector<BackingEvent> backingEvents(const Score& score, const BackingSettings& settings);

} // namespace valveladder
