#pragma once

#include <optional>

namespace valveladder {

/// A note as the sound alone tells it, before it is matched to the score. Times in seconds of the sound.
struct HeardNote {
    enum class Start {
        attack,  ///< out of silence, or with a fresh stroke
        glide,   ///< slurred: one pitch bent into the next without a break
        restrike ///< spoke again on the pitch that was sounding
    };

    double onsetNoise = 0.0; ///< standard deviation with which this sound lets its onset be known, seconds
    double onset = 0.0;    ///< attack: -10 dB of its level reached; glide: the middle of the change of pitch
    double offset = 0.0;   ///< last time at half of its level, or where the next note takes over
    double midi = 0.0;     ///< median pitch, fractional MIDI number at A4 = 440 Hz
    double level = 0.0;    ///< root mean square while settled, full scale = 1
    double strength = 0.0; ///< how periodic, 0..1
    Start start = Start::attack;
    double restrikeWeight = 0.0;        ///< evidence of a second stroke, 0..; restrike only
    std::optional<double> changeoverMs; ///< glide only
    std::optional<double> gapMs;        ///< silence before an attack, when a note came shortly before
    double settledSeconds = 0.0;        ///< time on which `midi` rests

    struct Beginning {
        double onset = 0.0;
        Start start = Start::glide;
        std::optional<double> changeoverMs;
    };
    /// Short, and on the way from the note before to the one after: a glide between those two would sound
    /// much the same. Only the score can tell whether it was meant.
    bool passing = false;
    std::optional<Beginning> ifPassed; ///< how this note began if the passing notes before it were none
};

} // namespace valveladder
