#pragma once

#include "Base/Units.h"
#include "Ladder/Drill.h"
#include "Valves/Change.h"

#include <array>
#include <cstdint>
#include <span>
#include <string>
#include <vector>

namespace valveladder {

/// Position in a score, in ticks of which ticksPerQuarter make a quarter note. Tick 0 is the first click of
/// the count-in; the first note lies at Score::countInTicks.
using Tick = std::int64_t;

[[nodiscard]] constexpr double quartersOf(Tick ticks) noexcept {
    return static_cast<double>(ticks) / ticksPerQuarter;
}

/// At a tempo that stays, in quarters a minute.
[[nodiscard]] constexpr double secondsOf(Tick ticks, double bpm) noexcept {
    return quartersOf(ticks) * secondsPerMinute / bpm;
}

/// An expected note. Plain data, sorted by onset, never overlapping.
struct ScoreNote {
    Tick onset = 0;
    int length = 0; ///< rhythmic length, ticks, up to the next note's onset inside a segment
    int gate = 0;   ///< sounding length of the guide, ticks, 1..length
    MidiNote written = 60;
    MidiNote sounding = 58;
    Combination combination;
    double predictedCents = 0.0; ///< what the combination predicts against equal temperament
    int velocity = 80;           ///< of the guide, 1..127, from touch and accent
    bool accent = false;
    bool slurFromPrevious = false; ///< not tongued: the change is heard as a changeover
    bool isLong = false;           ///< the longest share of its rhythm; false throughout even rhythms
    bool isShort = false;
    int rung = 0;
    int segment = 0; ///< index into Drill::segments
    int span = 0;    ///< index into Score::spans

    bool operator==(const ScoreNote&) const = default;
};

/// One segment of one rung: played in one breath.
struct ScoreSpan {
    int rung = 0;
    int segment = 0;
    int firstNote = 0;
    int noteCount = 0;
    Tick start = 0;
    Tick end = 0; ///< end of the last note

    bool operator==(const ScoreSpan&) const = default;
};

/// What is expected of the player, as a flat array. Built once for a drill, an instrument and a tempo;
/// immutable.
struct Score {
    std::vector<ScoreNote> notes;
    std::vector<ScoreSpan> spans;
    std::vector<std::string> rungLabels;
    std::vector<std::string> segmentNames;
    Meter meter;
    Tick countInTicks = 0;
    Tick length = 0; ///< to the end of the bar after the last note, whole bars: the period when repeated
    double bpm = 0;  ///< quarters a minute for which rests in seconds were laid
    /// Where the first partial of each combination (by its bits) sounds, fractional MIDI number, lip and bore
    /// left out; 0 = not known.
    std::array<double, 1U << maxValves> fundamentals{};

    /// Same notes at the same ticks: only the tempo for which rests were laid may differ.
    [[nodiscard]] bool sameLayout(const Score& other) const;
    [[nodiscard]] bool empty() const { return notes.empty(); }
    /// The change that leads into note `index`; from == to for the first note of a span.
    [[nodiscard]] Change changeInto(int index) const;
    /// Index of the note sounding at `tick` or, in a gap, of the next one; notes.size() after the last.
    [[nodiscard]] std::size_t noteAt(Tick tick) const;
};

/// A segment that lasts longer than the drill's breath; it does not keep the drill from being played.
struct BreathWarning {
    std::string rung;           ///< its label, as in Score::rungLabels
    int segment = 0;            ///< into Score::segmentNames
    double seconds = 0.0;       ///< that it lasts at `bpm`
    double bpm = 0.0;           ///< quarters a minute
    double breathSeconds = 0.0; ///< Drill::breathSeconds

    bool operator==(const BreathWarning&) const = default;
};

/// Lays a drill out in time. `bpm` is in quarters a minute, 10..400. Fails where checked(drill) fails, the
/// tempo is outside, or a note cannot be fingered.
[[nodiscard]] Result<Score> buildScore(const Drill& drill, const Instrument& instrument, double bpm);

/// Segments that last longer than the drill's breath at `bpm`, quarters a minute.
[[nodiscard]] std::vector<BreathWarning> breathWarnings(const Score& score, const Drill& drill, double bpm);

} // namespace valveladder
