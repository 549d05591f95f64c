#pragma once

#include "Base/Problem.h"
#include "Log/LogStore.h"
#include "Review/Review.h"
#include "Score/Score.h"

#include <vector>

namespace valveladder {

/// A week that nobody practised, to look round in: an invented trumpet player with valve sensors whose third
/// finger is slow, six days with two takes each, a day of rest, the tempo by its plan. The same each time;
/// every take is marked as invented.
struct InventedWeek {
    static constexpr const char* player = "Invented Ina";
    static constexpr const char* instrumentId = "trumpet-b-flat";
    static constexpr UtcMs firstEvening = 1772471400000; ///< Monday, 2026-03-02 17:10 UTC
    static constexpr UtcMs nextMorning = 1773045000000;  ///< Monday, 2026-03-09 08:30 UTC

    /// The week's takes into `log`; those that are there already stay as they are.
    [[nodiscard]] static Result<Done> keepIn(LogStore& log);

    /// What is asked of a log that holds it: Ina's takes, looked at on the morning after the week.
    [[nodiscard]] static ReviewRequest reviewRequest();

    /// The short drill of the sound below: the first rung once, even and firm.
    [[nodiscard]] static Drill shortDrill();
    /// How Ina sounds in a take of it: mono, full scale = 1, the drill's count-in first.
    static constexpr double shortBpm = 72.0;
    [[nodiscard]] static Result<std::vector<float>> shortSound(double sampleRate);
};

} // namespace valveladder
