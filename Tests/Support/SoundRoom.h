#pragma once

#include "Support/SoundTake.h"

namespace valveladder::testing {

/// White noise of this root mean square below full scale.
void addNoise(SoundTake& take, double dbfs, std::uint32_t seed);
/// A diffuse room: the direct sound and exponentially decaying noise-like echoes, `wetDb` under the direct.
void addRoom(SoundTake& take, double reverbSeconds, double wetDb, std::uint32_t seed);
/// Short clicks on every beat, as they leak from headphones; peak `dbfs`.
void addClicks(SoundTake& take, double firstBeat, double beatSeconds, double dbfs);
/// Somebody else's held note in the hall.
void addHeldNote(SoundTake& take, double hz, double dbfs);
/// Cuts the lows, as a small microphone does: first order below `hz`, twice.
void cutLows(SoundTake& take, double hz);

} // namespace valveladder::testing
