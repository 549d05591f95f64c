#pragma once

#include "Support/SoundCorpus.h"

#include <cstdint>

namespace valveladder::testing {

/// Ways of playing that are no faults. Tenuto: each note is struck, and held up to the next, in one stream of
/// air that the tongue stops for a moment, 10 to 18 dB. Legato tongue: it only touches it, 3 to 9 dB.
/// Portato: notes held for 0.85 to 0.92 of their length. Vibrato: 20 to 60 cents either way, 4 to 7 Hz, bent
/// slurs and detached notes in turn.
enum class Connection { tenuto, legatoTongue, portato, vibrato };
inline constexpr Connection connections[] = {Connection::tenuto, Connection::legatoTongue,
                                             Connection::portato, Connection::vibrato};
[[nodiscard]] const char* nameOf(Connection connection);

/// A clean take of the recipe's source and instrument, played so; the recipe's articulation is left out, and
/// its noise is -60 dBFS.
[[nodiscard]] RenderedTake renderConnected(const TakeRecipe& recipe, Connection connection);

/// Swings the pitch of a whole take by `cents` either way, `hz` times a second, by reading it earlier and
/// later, and its level by 1 dB with it. Times stay true within 2.3 ms (60 cents, 4 Hz).
void addVibrato(SoundTake& take, double cents, double hz, double phase);

} // namespace valveladder::testing
