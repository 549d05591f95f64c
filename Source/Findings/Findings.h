#pragma once

#include "Findings/CarryOver.h"
#include "Findings/Identifiability.h"
#include "Findings/LastFingers.h"
#include "Findings/PlanReality.h"
#include "Findings/SeparatingDrill.h"
#include "Findings/Tiring.h"
#include "Findings/Trend.h"
#include "Findings/Weakness.h"

#include <optional>
#include <span>
#include <stop_token>
#include <vector>

namespace valveladder {

/// Everything that takes of one player on one instrument say.
struct FindingsReport {
    Weaknesses weaknesses;
    Identifiability identifiability;
    std::vector<LastFinger> lastFingers; ///< direct evidence, beside the weaknesses that are fitted
    std::vector<CarryOver> carryOver;
    std::vector<Tiring> tiring;
    std::vector<Trend> trends;
    PlanReality plan;
    std::optional<SeparatingDrill> settle; ///< where something cannot be told apart, or a finding has rivals
};

/// Takes oldest first (see apart()). `bpm`: the plan's next tempo, for the drill that settles. A pure
/// function. When `stop` is asked for, it returns early and what it returns is not to be used.
[[nodiscard]] FindingsReport findingsIn(std::span<const TakeEvidence> takes, const Instrument& instrument,
                                        double bpm, const FindingLimits& limits = {},
                                        const std::stop_token& stop = {});

} // namespace valveladder
