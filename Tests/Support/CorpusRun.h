#pragma once

#include "Listening/WeighedReports.h"
#include "Support/SoundScoring.h"
#include "Support/TakesInLife.h"

#include <functional>
#include <map>
#include <string>

namespace valveladder::testing {

/// Seeds for each combination: VALVE_LADDER_FULL=1 means the full size, else the small one of CI.
[[nodiscard]] bool fullSize();
[[nodiscard]] int corpusSize(int small, int full);

struct CorpusResult {
    Tally all;
    std::map<std::string, Tally> byGroup; ///< "trumpet", "glide", "large font", ...
    MatchCounts aubio;                    ///< the same sounds by aubioNotes, lag removed
    std::map<std::string, MatchCounts> aubioByGroup;
    std::vector<double> aubioOnsetErrorsMs;

    void add(const Tally& tally, const std::vector<std::string>& groups);
};

/// What a listener made of a take, tempo and start known.
struct ListenedTake {
    Performance heard;
    std::vector<WeighedReport> reports; ///< the unlikely too
    std::vector<WeighedLate> late;
};
[[nodiscard]] ListenedTake listenTo(const Score& score, const SoundTake& take, double bpm);

/// Listens to one take, tempo and start known.
[[nodiscard]] Tally heardTake(const RenderedTake& rendered, double bpm, const std::string& name);

/// Listens to every take of a part that `wanted` accepts, with tempo and start known, and tallies.
[[nodiscard]] CorpusResult runCorpus(Part part, Condition condition, int size, bool withAubio = false,
                                     const std::function<bool(const TakeRecipe&)>& wanted = {});

/// The same of takes in life.
[[nodiscard]] CorpusResult runCorpus(Life life, Part part, Condition condition, int size);

/// Rows of a Markdown table, one for each group and one for all.
[[nodiscard]] std::string table(const CorpusResult& result, const std::string& title);

} // namespace valveladder::testing
