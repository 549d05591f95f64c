#pragma once

#include "Console/PlayedDrill.h"
#include "Files/GuideFile.h"

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
    /// One score for each take, Score::bpm holding its tempo.
    [[nodiscard]] Result<std::deque<Score>> scores(const PlayedDrillOptions::Chosen& chosen) const;

private:
    [[nodiscard]] Result<std::vector<double>> tempos(double first) const;
};

/// As files are made of them; they point into `scores`.
[[nodiscard]] std::vector<SessionTake> sessionTakes(const std::deque<Score>& scores);

} // namespace valveladder::console
