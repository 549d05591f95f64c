#pragma once

#include "Console/DrillOptions.h"
#include "Score/Score.h"

#include <deque>
#include <optional>
#include <vector>

namespace valveladder::console {

/// Takes of one drill laid end to end, each a step faster than the one before.
struct SteppedTakes {
    int takes = 5;
    double step = 1.0;
    std::optional<double> ceiling;

    void add(CLI::App& app);
    /// One score for each take, Score::bpm holding its tempo; `first` in quarters a minute.
    [[nodiscard]] Result<std::deque<Score>> scores(const DrillOptions::Chosen& chosen, double first) const;

private:
    [[nodiscard]] Result<std::vector<double>> tempos(double first) const;
};

} // namespace valveladder::console
