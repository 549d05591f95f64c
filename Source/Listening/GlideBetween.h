#pragma once

#include "Listening/GlideFit.h"
#include "Listening/PhraseSound.h"
#include "Listening/Tone.h"

#include <optional>
#include <span>

namespace valveladder {

/// The sound about a change of pitch, with the settled periods on either side. In samples.
struct ChangeSound {
    double first = 0.0;           ///< place of piece[0] in the phrase's sound, whole
    std::span<const float> piece; ///< the change and some periods on either side
    double periodBefore = 0.0;
    double periodAfter = 0.0;

    /// Its places are those of the piece.
    [[nodiscard]] GlideFitter fitter() const;
};

/// The sound about a change that may take `half` samples on either side of `edge`; nothing where there is too
/// little of it.
[[nodiscard]] std::optional<ChangeSound> changeSound(const PhraseSound& sound, const Tone& before,
                                                     const Tone& after, double edge, double half);

/// The glide from one tone to the next that fits the sound best, its places in the phrase's sound; nothing
/// where there is too little sound to tell.
[[nodiscard]] std::optional<Glide> glideBetween(const PhraseSound& sound, const Tone& before,
                                                const Tone& after);

/// Share of the sound's power about a fitted glide that echoes explain: what a room adds.
[[nodiscard]] double echoShareBetween(const PhraseSound& sound, const Tone& before, const Tone& after,
                                      Glide glide);

/// The glide that fits best where the first tone rings on under the second, from what was fitted without
/// that.
[[nodiscard]] std::optional<Glide> ringingGlideBetween(const PhraseSound& sound, const Tone& before,
                                                       const Tone& after, Glide plain);

} // namespace valveladder
