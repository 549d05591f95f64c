#pragma once

namespace valveladder {

/// A short piece of tone and the tone that it touches: how a note spoke, or a note of its own?
struct Scoop {
    double seconds = 0.0;        ///< from the beginning of the piece, earlier ones joined, to the tone
    double semitones = 0.0;      ///< between the two
    double gapSeconds = 0.0;     ///< without pitch between the two
    double settledSeconds = 0.0; ///< length of the tone
    double levelOverNext = 0.0;  ///< of the piece
    double dip = 0.0; ///< quietest place from the piece's middle to the tone, over the piece's level
    double silenceBefore = 0.0; ///< quietest place before the piece, over the softer of the tones beside it

    /// Struck out of silence, and the tone not struck again: players scoop, speak soft, or find their pitch
    /// late. Short notes that the score asks for may look like it: it decides.
    [[nodiscard]] bool isOneNote() const;
};

/// Whether a dip so many seconds after a struck note's onset, so deep, after which the tone is so much
/// louder, belongs to how it speaks: it swells still.
[[nodiscard]] bool speaksStill(double seconds, double dipDb, double swell);

} // namespace valveladder
