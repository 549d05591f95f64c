#pragma once

#include "Records/TakeRecord.h"
#include "Session/Capture.h"
#include "Session/LedBlock.h"
#include "Session/TakeHearing.h"
#include "Takes/TakeWatch.h"

#include <cstdint>
#include <memory>
#include <string>
#include <vector>

namespace valveladder {

/// A take that runs: from its begin edge on.
struct OpenTake {
    TakeHeader header;
    TakeEdge begin;
    double takeBeginBpm = 0.0;
    bool midiHeard = false;
    bool soundHeard = false;
    Clock clock = Clock::none;
    GuideSettings guide;
    std::shared_ptr<const SessionSetup> setup;
    std::vector<std::string> messages;
    std::int64_t leadSample = 0; ///< notes from here on belong to the take
    RoundTrip roundTrip;
    std::unique_ptr<TakeHearing> hearing; ///< nullptr: no sound came
};

/// A take that has ended, and waits for what is still on its way.
struct PendingTake {
    OpenTake open;
    TakeEdge end;
    UtcMs endedUtc = 0;
    std::int64_t readySample = 0; ///< late note-offs, and sound on its way, are awaited until here
    UtcMs readyUtc = 0;           ///< or until then, when no blocks come any more
};

/// Late note-offs of a take's last note, and the end of its sound, are awaited this long.
inline constexpr double takeGraceSeconds = 0.3;

/// The journal row of a take that begins now.
[[nodiscard]] TakeHeader headerOf(const SessionSetup& setup, TakeWay way, UtcMs startedUtc,
                                  const std::string& machine);

/// Where the lap's tick 0 lies, host quarters.
[[nodiscard]] double lapStartPpq(const Score& score, const GuideSettings& guide, std::int64_t lap);

/// What came by MIDI during a take, without our own guide where that came back: then a message of the take
/// says so, and `guideCameBack` is set. `rate` in Hz.
[[nodiscard]] Capture::Heard heardIn(PendingTake& take, const Capture& capture, double rate,
                                     bool& guideCameBack);

/// The finished take with what the player did: by MIDI where notes came, else by sound.
[[nodiscard]] TakeRecord recordOf(PendingTake& take, const Capture::Heard& heard, double rate);

} // namespace valveladder
