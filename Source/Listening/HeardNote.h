#pragma once

#include "Listening/HalfDone.h"
#include "Listening/LateEvidence.h"

#include <cstddef>
#include <cstdint>
#include <optional>
#include <vector>

namespace valveladder {

/// A note as the sound alone tells it, before it is matched to the score. Times in seconds of the sound.
struct HeardNote {
    enum class Start {
        attack,       ///< out of silence, or with a fresh articulation
        glide,        ///< slurred: one pitch bent into the next without a break
        rearticulated ///< spoke again on the pitch that was sounding
    };

    double onsetNoise = 0.0; ///< standard deviation with which this sound lets its onset be known, seconds
    double onset = 0.0;  ///< attack: -10 dB of its level reached; glide: the middle of the change of pitch
    double offset = 0.0; ///< last time at half of its level, or where the next note takes over
    double midi = 0.0;   ///< median pitch, fractional MIDI number at A4 = 440 Hz
    double level = 0.0;  ///< root mean square while settled, full scale = 1
    double periodicity = 0.0; ///< how periodic, 0..1
    Start start = Start::attack;
    /// Why it may be an articulation of its own; rearticulated only.
    struct Again {
        double weight = 0.0;      ///< Rearticulation::weight
        double sameness = 0.0;    ///< Rearticulation::sameness
        double commonDipDb = 0.0; ///< CommonDip.h, at the quietest place
        double since = 0.0;       ///< from the beginning of the tone's shape to the quietest place, seconds
        /// Of a second articulation, against the take's other tones; weighRearticulations fills it.
        double logOdds = 0.0;
    };
    Again again;
    std::optional<double> changeoverMs; ///< glide only
    double settledSeconds = 0.0;        ///< time on which `midi` rests

    static constexpr double shapeStep = 0.005; ///< seconds
    static constexpr std::size_t shapeSteps = 128;
    static constexpr double shapeDb = 0.5;
    static constexpr std::int8_t noLevel = -128;
    /// Level at every step from where the tone is no longer bent, in units of shapeDb under full scale, over
    /// the whole tone, later articulations included; noLevel where the note before still sounds.
    /// Rearticulations have none.
    std::vector<std::int8_t> shape;

    /// How a note spoke that was off its pitch at first.
    struct Spoke {
        double semitones = 0.0; ///< the farthest, positive = sharp
        double seconds = 0.0;   ///< from its onset to where it is on its pitch
    };
    std::optional<Spoke> spoke;

    struct Beginning {
        double onset = 0.0;
        Start start = Start::glide;
        std::optional<double> changeoverMs;
        std::optional<Spoke> spoke = std::nullopt;
    };
    /// Short, and on the way from the note before to the one after: a glide between those two would sound
    /// much the same. Only the score can tell whether it was meant.
    bool passing = false;
    std::optional<Beginning> ifPassed; ///< how this note began if the passing notes before it were none
    /// Passing only if the note after it began as one of its `slowly` says.
    bool onlyHalfWay = false;

    /// How this note began if its change of valves stopped half-way.
    struct Slowly {
        HalfDone stop;
        Beginning beginning;   ///< the changeover is the whole of it
        double apart = 0.0;    ///< from the first step to the second, seconds
        double mismatch = 1.0; ///< how ill the sound fits, 0..1
    };
    std::vector<Slowly> slowly; ///< best fit first
    /// What the score made of `slowly`: the fingers that came late, and what shows it; nothing where the
    /// change was done at once.
    struct Late {
        Combination fingers;
        LateEvidence evidence;
    };
    std::optional<Late> late;
};

} // namespace valveladder
