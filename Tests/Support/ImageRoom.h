#pragma once

#include "Support/SoundTake.h"

#include <cstdint>
#include <vector>

namespace valveladder::testing {

struct RoomSound {
    double reverbSeconds = 0.45;   ///< RT60
    double directOverTailDb = 6.0; ///< energy of the direct sound over all that follows
};

/// The response of a shoebox by images of the source in its walls (Allen and Berkley, "Image method for
/// efficiently simulating small-room acoustics", JASA 65, 1979; from memory), sides and places by seed: the
/// direct sound first, of height 1. Absorption by Eyring's formula for the RT60; every reflection loses
/// highs, as at soft walls; the tail is then brought to the ratio asked for.
[[nodiscard]] std::vector<float> roomResponse(const RoomSound& room, double rate, std::uint32_t seed);

/// The take as it sounds in such a room. Its truth stays: the direct sound comes without delay.
void playInRoom(SoundTake& take, const RoomSound& room, std::uint32_t seed);

} // namespace valveladder::testing
