#pragma once

#include "Findings/Care.h"
#include "Tempo/TempoPlan.h"

#include <set>
#include <string>
#include <vector>

namespace valveladder {

/// Remembers a sitting, so that each caution comes once where it belongs and never in a take: the hand check
/// at first use and when several fingers turn out slow at once, the rest reminder after continuous playing,
/// firm valves and hearing at a sitting's start.
class CareWatch {
public:
    /// Nobody of this name has a take in the log: as often as that is said of one, it is shown once.
    void firstUse(const std::string& player);
    void takeEnded(UtcMs startedUtc, UtcMs endedUtc);
    /// From the newest review: slowFingers(review.findings.weaknesses).
    void slowFingersNow(int fingers);

    /// What to show now; counts as shown. `firmNext`: the drill asks for firm valves.
    [[nodiscard]] std::vector<CareKind> due(const CareSettings& settings, bool takeRuns, bool firmNext,
                                            UtcMs now);

private:
    std::vector<PlayedSpan> played; ///< of this sitting, oldest first
    bool isFirstUse = false;
    std::set<std::string> beginners; ///< of whom firstUse() was said
    int slow = 0;
    int slowShown = 0; ///< the hand check was shown for so many
    bool firmShown = false;
    bool hearingShown = false;
    UtcMs lastReminder = 0;
};

} // namespace valveladder
