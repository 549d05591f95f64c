#pragma once

#include <optional>
#include <string>
#include <utility>
#include <variant>
#include <vector>

namespace valveladder {

/// What is told of a take beside its figures, where nothing needs to be filled in.
enum class TakeRemark {
    soundEmpty,      ///< nothing was recorded
    soundSilent,     ///< never over -80 dBFS
    noNoteHeard,     ///< in the sound
    otherMusic,      ///< few of the expected notes were heard
    noSlurredChange, ///< no change was slurred without a new articulation, so that no changeover is known
    midiBesideSound, ///< both came, MIDI was measured
    unusableRate,    ///< the sound was not measured
    noRoundTrip,     ///< none is known of the sound device
    guideLeftOut     ///< our own guide was in the recording as well
};

/// A measure that is absent, in so many segments; `least`: observations that it takes.
struct AbsentMeasure {
    enum class What { notes, deviations, spread, longShortRatio, asynchrony };
    What what = What::notes;
    int segments = 0; ///< 0 where it is one of the whole take
    int least = 0;    ///< 0 where the measure itself says it

    bool operator==(const AbsentMeasure&) const = default;
};

/// So many of what came could not be used as it should.
struct UnusableInput {
    enum class What {
        timesWithoutSense,   ///< notes left out
        notesWithoutLength,  ///< gaps and breaths after them are not known
        samplesAtFullScale,  ///< clipped
        samplesWithoutSense, ///< no numbers or far over full scale: silence
        soundsTooMany        ///< more than there is room for
    };
    What what = What::timesWithoutSense;
    long count = 0;

    bool operator==(const UnusableInput&) const = default;
};

/// The whole take sounded so many semitones above (> 0) or below the drill.
struct OtherRegister {
    int semitones = 0;

    bool operator==(const OtherRegister&) const = default;
};

/// Notes that began beside their pitch, medians over them.
struct ScoopedNotes {
    int notes = 0;
    double cents = 0.0;
    double ms = 0.0;

    bool operator==(const ScoopedNotes&) const = default;
};

/// A segment was broken off and begun again.
struct SegmentRestarted {
    int rung = 0;            ///< from 0
    std::string rungLabel;   ///< empty where it has none
    int segment = 0;         ///< from 0
    std::string segmentName; ///< empty where it has none
    int notesBefore = 0;     ///< heard before it was broken off
    double againSeconds = 0.0;

    bool operator==(const SegmentRestarted&) const = default;
};

/// Where in the drill the sound lies is not known; `readings` are what it could be, best first.
struct NotPlaced {
    struct Reading {
        double bpm = 0.0;
        double countInSeconds = 0.0; ///< in the sound
        int notesAgreeing = 0;

        bool operator==(const Reading&) const = default;
    };
    std::vector<Reading> readings;

    bool operator==(const NotPlaced&) const = default;
};

/// The sound file ends or breaks before it should; what of it, as the reader of files says.
struct DamagedRecording {
    std::string shortfall;

    bool operator==(const DamagedRecording&) const = default;
};

/// One of them, or a text: a remark read from a log, in the words in which it was told. Sentences:
/// Words/RemarkWords.h.
using Remark = std::variant<std::string, TakeRemark, AbsentMeasure, UnusableInput, OtherRegister,
                            ScoopedNotes, SegmentRestarted, NotPlaced, DamagedRecording>;

} // namespace valveladder
