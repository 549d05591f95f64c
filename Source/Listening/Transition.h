#pragma once

#include "Listening/Glide.h"
#include "Listening/PhraseSound.h"
#include "Listening/Tone.h"

#include <optional>
#include <span>
#include <vector>

namespace valveladder {

/// What lies between two tones.
struct Transition {
    QuietPlace dip;
    double share = 1.0;         ///< level of the dip over the softer tone's
    bool touches = false;       ///< no silence in the contour
    bool samePitch = false;     ///< the first struck again: nothing bends, and no other pitch takes over
    std::optional<Glide> glide; ///< places in the phrase's sound; nothing where there can be none
};

/// How one tone leads to the next.
enum class TransitionKind {
    glide,       ///< one pitch bends into the next
    articulated, ///< the first has all but ended when the second is struck
    takeover     ///< the second is struck while the first still sounds
};

/// One for each tone but the first: what lies before it.
[[nodiscard]] std::vector<Transition> transitionsOf(const PhraseSound& sound, std::span<const Tone> tones);

/// Whether most changes of a phrase are glides, as they are or with the first tone ringing on under the
/// second. If so, those under which it may ring on are fitted anew.
[[nodiscard]] bool fitBends(const PhraseSound& sound, std::span<const Tone> tones,
                            std::span<Transition> transitions);

/// `bent`: whether the phrase bends, which makes a glide of more of its changes.
[[nodiscard]] TransitionKind kindOf(const Transition& transition, bool bent);

} // namespace valveladder
