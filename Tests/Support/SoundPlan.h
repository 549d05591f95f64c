#pragma once

#include "Score/Score.h"
#include "Support/TrueChange.h"
#include "Tempo/TempoMap.h"

#include <cstdint>
#include <optional>
#include <random>
#include <string>
#include <vector>

namespace valveladder::testing {

enum class Articulation { detached, slur, glide };
[[nodiscard]] const char* nameOf(Articulation articulation);

/// What a made-up player does with one note. Times in seconds of the sound.
struct TrueNote {
    int index = -1;     ///< of the score; -1 = not in it
    double onset = 0.0; ///< as planned; the renderers replace it by the audible reference
    double offset = 0.0;
    int midi = 60; ///< sounding, as played
    bool tongued = true;
    bool wrong = false;
    bool breathBefore = false;
    std::optional<double> splitAt; ///< second articulation on the same pitch; renderers refer it as onset
    double firstStops = 0.0;       ///< where the first of two articulations is let go, as planned
    std::optional<double> speaksThrough; ///< another partial sounds first, this pitch, fractional
    double speaksThroughMs = 45.0;       ///< for so long
    std::optional<double> changeoverMs;  ///< glides only; by the definition of the README
    Bend bend = Bend::straight;          ///< glides only
    std::optional<TrueStop> stop;        ///< glides only; changeoverMs then follows from it
};

struct PlanFaults {
    double jitterMs = 0.0; ///< normal
    int wrong = 0;         ///< how many of each
    int missed = 0;
    int split = 0;
    int breaths = 0;
};

struct SoundPlan {
    std::vector<TrueNote> notes;
    std::vector<int> missed; ///< score indices left out
    double length = 0.0;     ///< seconds
    double startSeconds = 0; ///< of tick 0

    /// What was played for a note of the score; null where it was missed.
    [[nodiscard]] const TrueNote* note(int index) const;
};

struct PlanStyle {
    Articulation articulation = Articulation::glide;
    double minChangeoverMs = 30.0;
    double maxChangeoverMs = 30.0;
    double gateShare = 0.75; ///< detached notes
    double gateSpread = 0.0; ///< standard deviation of a note's own share about it
    double startSeconds = 0.3;
};

/// A chromatic run, written F#3-C4-F#3 by default, as spans of even, long-short and short-long eighths.
struct RunShape {
    int foot = 54;
    int top = 60;
    int transposition = -2;
    std::vector<std::vector<int>> rhythms{{1}, {3, 1}, {1, 3}};
    bool slurred = true;
    int noteTicks = ticksPerQuarter / 2;
};
[[nodiscard]] Score chromaticRun(const RunShape& shape, double bpm);

/// Both articulations of a note that is split last for this, seconds, changeovers not counted.
inline constexpr double leastHalf = 0.06;
/// Silence before a second articulation, seconds.
inline constexpr double splitGap = 0.02;

/// Shorter of the two audible halves of a note with a second articulation, changeovers not counted, seconds.
/// `next`: the note after it, if there is one.
[[nodiscard]] double shorterHalf(const TrueNote& note, const TrueNote* next);

/// Plays `score` at `bpm` with faults chosen by `seed`.
[[nodiscard]] SoundPlan planTake(const Score& score, double bpm, const PlanStyle& style,
                                 const PlanFaults& faults, std::uint32_t seed);

} // namespace valveladder::testing
