#pragma once

#include "Session/SessionView.h"
#include "View/Surroundings.h"

#include <memory>
#include <optional>
#include <string>
#include <vector>

namespace valveladder {

/// The leading clock as the window reads it.
struct ClockReading {
    double ppq = 0.0;
    double startPpq = 0.0; ///< where the drill's tick 0 lies
    bool playing = false;
};

/// Whether so little of the drill has gone by that nobody need have been heard: count-in and first notes.
[[nodiscard]] bool hardlyBegun(const Score& score, const ClockReading& clock, bool repeat);

/// Something that stands in the way, or a word to begin with: one at a time, the gravest first.
struct Notice {
    enum class Kind { none, logTrouble, wrongTempo, noClock, noInput, hostStands } kind = Kind::none;
    bool trouble = false;
    std::string title;
    std::string words;

    bool operator==(const Notice&) const = default;
};

/// What is known of the player's input; unknown also where none is wanted.
enum class InputSeen { unknown, nothing, something };

/// Standing still is nothing to be told of where no host is waited for.
[[nodiscard]] Notice noticeFor(const SessionView& view, InputSeen input, const Surroundings& around = {});

/// What the place "while playing" shows.
struct PlayModel {
    std::shared_ptr<const SessionSetup> setup;
    double tick = 0.0;    ///< position in the score
    bool moving = false;  ///< the clock runs and the drill is there
    std::size_t note = 0; ///< sounding or next one; notes.size() after the last
    int countIn = 0;      ///< beat of the count-in, from 1; 0 = not counting in
    int beatsToEntry = 0; ///< in a rest: whole beats until the next note, rounded up; 0 = playing
    double plannedBpm = 0.0;
    double realBpm = 0.0; ///< 0 = unknown
    std::string place;
    std::string take;  ///< its state, in a few words to be read from afar: "Take running"
    std::string clock; ///< what belongs to that, and who leads; may be empty
    bool inTake = false;
    Notice notice;

    /// What the listener hears, while a take of sound runs.
    struct Heard {
        std::size_t note = 0;  ///< of the score, where the player is
        bool asWritten = true; ///< its pitch, within half a semitone
        bool operator==(const Heard&) const = default;
    };
    std::optional<Heard> heard;
};

[[nodiscard]] PlayModel playModel(const SessionView& view, const ClockReading& clock, bool repeat,
                                  InputSeen input, const Surroundings& around = {});

} // namespace valveladder
