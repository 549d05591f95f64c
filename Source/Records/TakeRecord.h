#pragma once

#include "Listening/Corrections.h"
#include "Listening/Performance.h"
#include "Takes/TakeWatch.h"
#include "Tempo/TempoPlan.h"

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

namespace valveladder {

enum class TakeState {
    open,     ///< journal row only: begun and not finished (or the program died meanwhile)
    cutShort, ///< or found open after a crash; "partial" in logs and files
    whole
};

/// Where a take's round trip was known from.
enum class RoundTripFrom {
    none,    ///< not known: nothing was subtracted
    byHand,  ///< set by the player
    measured ///< click out, heard back, on the device in use
};

/// Everything known when a take begins: the journal row.
struct TakeHeader {
    std::string id; ///< UUID, stable across machines
    std::string player;
    std::string instrumentId;
    std::string instrumentJson; ///< the instrument as it was, so that a log can be read anywhere
    std::string drillName;      ///< takes with one name form one plan
    std::string drillJson;      ///< the drill as it was played
    UtcMs startedUtc = 0;
    std::string timeZone; ///< IANA name where it was played
    TakeWay way = TakeWay::recordingPass;
    double plannedBpm = 0.0;
    std::string machine;   ///< stable random id of the machine's log
    bool invented = false; ///< demo data: never mixed with real takes in findings

    bool operator==(const TakeHeader&) const = default;
};

/// A finished take.
struct TakeRecord {
    TakeHeader header;
    UtcMs endedUtc = 0;
    TakeState state = TakeState::whole;
    TakeEnd end = TakeEnd::whole;
    double playedBpm = 0.0;    ///< what the clock really ran at, mean over the take
    double playedBpmLow = 0.0; ///< slowest and fastest block
    double playedBpmHigh = 0.0;
    double startPpq = 0.0; ///< host position of the take's edges
    double endPpq = 0.0;
    std::string clock;                 ///< "host", "own", "link"
    std::optional<double> roundTripMs; ///< subtracted from what was heard; absent = none known
    RoundTripFrom roundTripFrom = RoundTripFrom::none;
    std::string soundFile; ///< kept sound, relative to the log's folder; empty = none
    bool passed = false;
    std::string playerNote;
    std::vector<std::string> messages; ///< e.g. "the host was at 66, this take was planned at 68"
    Performance performance;
    /// What the player says was right, by note. Read from a log, `performance` takes their word for it,
    /// unless it was asked for as heard. The log keeps them apart from the take: writing a take leaves them
    /// as they are.
    std::vector<Correction> corrections;

    bool operator==(const TakeRecord&) const = default;
};

/// Judges a take by its notes; one without notes does not pass.
[[nodiscard]] bool passes(const PassRule& rule, TakeState state, const Performance& played);

/// A take without its notes, for lists and plans.
struct TakeSummary {
    std::int64_t number = 0; ///< in the log it was read from, from 1; 0 = not from a log
    TakeHeader header;
    UtcMs endedUtc = 0;
    TakeState state = TakeState::whole;
    TakeEnd end = TakeEnd::whole;
    double playedBpm = 0.0;
    std::string clock;
    std::optional<double> roundTripMs;
    RoundTripFrom roundTripFrom = RoundTripFrom::none;
    std::string soundFile;
    bool passed = false;
    std::string playerNote;
    std::vector<std::string> messages;
    Source source = Source::midi;
    int expected = 0, right = 0, wrong = 0, missed = 0, extra = 0, breaths = 0;
    bool clean = false;
    std::optional<Estimate> asynchronyMs;
    std::optional<double> worstIoiSpreadPercent;
};

} // namespace valveladder
