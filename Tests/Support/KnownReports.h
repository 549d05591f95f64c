#pragma once

#include "Listening/WeighedReports.h"
#include "Support/SoundCorpus.h"
#include "Support/TakesInLife.h"

#include <string>
#include <vector>

namespace valveladder::testing {

/// A report of a take of which it is known what was played.
struct KnownReport {
    WeighedReport weighed;
    bool so = false;
    std::string circumstances;
};

/// Listens to a take, tempo and start known, and holds every report against what was played: a report counts
/// as so when the note it names was played as it says, or a stray note within 0.12 s.
[[nodiscard]] std::vector<KnownReport> knownReports(const RenderedTake& rendered, double bpm,
                                                    const std::string& circumstances);

/// Of all takes of a part in all lives, stumbling where faults are planted, and of as many on each of four
/// instruments whose notes crack (HeardStories.h).
[[nodiscard]] std::vector<KnownReport> knownReports(Part part, int size);

/// A change whose fingers were told to be late, and whether just these were.
struct KnownLate {
    LateEvidence evidence;
    bool so = false;
};

/// Of made-up players whose fingers come apart (SlowFingers.h), `takes` on every `every`-th instrument.
[[nodiscard]] std::vector<KnownLate> knownLateFingers(std::uint32_t firstSeed, int takes,
                                                      std::uint32_t every = 1);

} // namespace valveladder::testing
