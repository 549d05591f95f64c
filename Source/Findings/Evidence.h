#pragma once

#include "Ladder/Drill.h"
#include "Listening/Performance.h"
#include "Score/Score.h"
#include "Valves/Instrument.h"

#include <cstdint>
#include <map>
#include <optional>
#include <span>
#include <string>
#include <utility>
#include <vector>

namespace valveladder {

/// Where a note stands in its rhythm.
enum class RhythmPlace : std::uint8_t { even, longNote, shortNote };

/// What told in which order the fingers of a change came.
enum class OrderFrom : std::uint8_t {
    nothing, ///< fewer than two fingers moved, it was not measured, or a note of it was not right
    sound,   ///< what sounded between the two notes
    sensors  ///< valve sensors
};

/// Accents further back than this, or none in the segment yet, leave no trace.
inline constexpr std::uint8_t noAccentNear = 255;
inline constexpr int accentReach = 2; ///< notes

/// What is known of one change that was asked for. Kept small: a log may hold a million.
struct ChangeEvidence {
    Change change;
    Combination usualFrom;       ///< the instrument's usual combination of the note left
    Combination usualTo;         ///< and of the note reached
    std::int8_t interval = 0;    ///< written semitones, positive = up
    std::int8_t partialJump = 0; ///< partials, positive = up
    Touch touch = Touch::firm;
    RhythmPlace place = RhythmPlace::even;   ///< of the note reached
    std::uint8_t written = 60;               ///< written pitch of the note reached, MIDI number
    std::uint8_t sinceAccent = noAccentNear; ///< notes since the last accent; 0 = the note reached has it
    bool offBeat = false;                    ///< the note reached lies off the beat
    bool first = false;                      ///< the first change of its segment
    bool error = false; ///< the note reached was wrong, missed or split, or its valves were wrong
    std::int16_t rung = 0;
    std::int16_t segment = 0;
    std::int32_t span = 0;             ///< into Score::spans
    std::int32_t note = 0;             ///< into Score::notes, the note reached
    std::int32_t ticks = 0;            ///< onset of the note reached, from the start of its segment
    std::optional<float> changeoverMs; ///< slurred and both notes right, else absent
    std::optional<float> deviationMs;  ///< positive = late
    OrderFrom orderFrom = OrderFrom::nothing;
    Combination lateFingers; ///< that came togetherMs or more after the others; none: all came together, or
                             ///< the sound between fits several orders
    float lateByMs = 0.0F;   ///< so much after the others; 0 where none did
};

struct SegmentEvidence {
    int rung = 0;
    int segment = 0;
    Touch touch = Touch::firm;
    bool even = true;
    std::optional<double> ioiSpreadMs;       ///< 1.4826 * MAD
    std::optional<double> meanLogChangeover; ///< mean of log(ms), for slopes
};

/// What the log knows of a take beside its notes.
struct TakeFacts {
    std::string id;
    std::string player;
    std::string instrumentId;
    std::string drillName;
    bool invented = false;
    std::int64_t startedUtcMs = 0; ///< since 1970-01-01 UTC
    std::int64_t endedUtcMs = 0;
    std::int64_t day = 0; ///< practice day (practiceDay of the plan's rules)
    double plannedBpm = 0.0;
    double playedBpm = 0.0;
    bool whole = true;
    bool passed = false;
    bool slowerThanPlanned = false; ///< by more than its plan tolerates: it does not count for the plan
};

/// One take as findings see it.
struct TakeEvidence {
    TakeFacts facts;
    int notes = 0; ///< expected and within the take
    std::vector<ChangeEvidence> changes;
    std::vector<SegmentEvidence> segments;
};

/// The evidence in a take. `score` must be the one that `performance` was heard against, built from `drill`
/// for `instrument`. Indices of the performance outside the score are left out.
[[nodiscard]] TakeEvidence evidenceOf(const TakeFacts& facts, const Drill& drill,
                                      const Instrument& instrument, const Score& score,
                                      const Performance& performance);

/// Changes asked for in all of the takes.
[[nodiscard]] std::size_t changeCount(std::span<const TakeEvidence> takes);

using PlayerAndInstrument = std::pair<std::string, std::string>; ///< name and instrument's id
/// Takes of several players or instruments, each apart, oldest first; a take given twice counts once, and
/// invented takes never mix with real ones: they form a player of their own, "<name> (invented)".
[[nodiscard]] std::map<PlayerAndInstrument, std::vector<TakeEvidence>> apart(std::vector<TakeEvidence> takes);

/// Old takes weigh less: half after this many days (ours, no source).
inline constexpr double ageHalfLifeDays = 28.0;

/// 2^(-age / ageHalfLifeDays), 1 for a take that began at `newestUtcMs`.
[[nodiscard]] double ageWeight(std::int64_t startedUtcMs, std::int64_t newestUtcMs);

} // namespace valveladder
