#pragma once

#include "Findings/SideBySide.h"
#include "Log/LogStore.h"
#include "Review/LoggedScore.h"

#include <string>
#include <vector>

namespace valveladder {

/// Takes that count as one side: a take, or the takes of a day.
struct ComparedSide {
    std::string label;
    std::vector<std::string> takeIds;

    bool operator==(const ComparedSide&) const = default;
};

/// Takes of one drill side by side, with what is needed to show them.
struct Comparison {
    Instrument instrument;
    Score score; ///< of the first take
    std::vector<ComparedSide> sides;
    SideBySide notes;
};

/// The same notes by the same fingers in the same order and length; rests may differ with the tempo.
[[nodiscard]] bool sameTask(const Score& a, const Score& b);

/// A take that has been read, with what it was played from.
struct ComparedTake {
    const TakeRecord* take = nullptr;
    const LoggedScore* played = nullptr;
};

struct LoadedSide {
    std::string label;
    std::vector<ComparedTake> takes;
};

/// Lays takes side by side. Fails when a side is empty or a take asks for other notes or fingerings than the
/// first. Two sides or more.
[[nodiscard]] Result<Comparison> compare(const std::vector<LoadedSide>& sides);

/// Reads the takes (ids, or their unambiguous beginnings) and lays them side by side. Fails when a take is
/// not there or cannot be read, and as compare() does.
[[nodiscard]] Result<Comparison> compareTakes(const LogStore& log, const std::vector<ComparedSide>& sides);

} // namespace valveladder
