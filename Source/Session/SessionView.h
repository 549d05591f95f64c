#pragma once

#include "Listening/SoundListener.h"
#include "Records/TakeRecord.h"
#include "Session/SessionSetup.h"

#include <memory>
#include <optional>
#include <string>
#include <vector>

namespace valveladder {

/// Which clock leads.
enum class Clock { none, host, own, link };

[[nodiscard]] const char* name(Clock clock); ///< for log and screen: "none", "host", "own", "link"

/// A line for the player, newest last.
struct SessionMessage {
    UtcMs utc = 0;
    std::string text;
    bool trouble = false; ///< something is wrong, not merely news
};

/// What is taken off the times of sound that is heard, and what is known of it.
struct RoundTrip {
    std::optional<double> ms; ///< in use: by hand, else measured on this device
    RoundTripFrom from = RoundTripFrom::none;
    std::string device; ///< the sound device or host with its rate and block; empty = not named

    bool operator==(const RoundTrip&) const = default;
};

/// What a screen shows of a session. A copy: nothing in it changes under the reader.
struct SessionView {
    std::shared_ptr<const SessionSetup> setup; ///< never null
    Clock clock = Clock::none;
    bool playing = false;
    bool recording = false;
    double bpm = 0.0;     ///< of the leading clock now; 0 when it does not say
    std::string mismatch; ///< e.g. "The host is at 66, this take is planned at 68"; empty when they agree
    bool inTake = false;  ///< a take is open
    TakeWay way = TakeWay::recordingPass;
    /// Where the player is in the score, and what is heard: while a take of sound runs. `seconds` counts from
    /// the first sound of the take.
    std::optional<LiveView> live;
    RoundTrip roundTrip;
    bool measuringRoundTrip = false; ///< clicks are sounding
    bool playedToday = false; ///< a take of this player, instrument and drill was finished this practice day
    std::vector<SessionMessage> messages;
    std::optional<Problem> logTrouble;
    std::size_t waitingTakes = 0; ///< finished, not yet in the log
};

} // namespace valveladder
