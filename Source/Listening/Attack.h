#pragma once

#include "Listening/Envelope.h"

namespace valveladder {

/// Where to look for the beginning of a struck note. Places and lengths in samples of the envelope's sound.
struct AttackSearch {
    double quiet = 0.0;  ///< the quietest place before the note
    double from = 0.0;   ///< rough beginning, where it has a pitch already
    double to = 0.0;     ///< rough end
    double window = 1.0; ///< over which levels are taken: one period, no less than 5 ms
    double rate = 1.0;   ///< Hz
};

struct Attack {
    double onset = 0.0; ///< samples
    double level = 0.0; ///< greatest within 150 ms of the beginning, full scale = 1
};

/// A struck note begins where its level first reaches -10 dB of its greatest within 150 ms of being heard.
/// Out of silence that is sought forwards from there: a note may speak slowly, dip and swell, and before it
/// has a pitch. Where the note before still sounds, backwards from where the new one is loud.
[[nodiscard]] Attack findAttack(const Envelope& envelope, const AttackSearch& search);

} // namespace valveladder
