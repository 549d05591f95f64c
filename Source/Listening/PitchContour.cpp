#include "Listening/PitchContour.h"

#include <algorithm>

namespace valveladder {

PitchContour::PitchContour(int bins, ContourCosts contourCosts) : costs(contourCosts), binCount(bins) {
    const auto n = static_cast<std::size_t>(bins);
    columns.assign(lookAhead + 1, Column{std::vector<std::int16_t>(n + 1), std::vector<float>(n),
                                         std::vector<float>(n), 0.0F});
    cost.assign(n + 1, 0.0F);
    previous.assign(n + 1, 0.0F);
}

std::size_t PitchContour::slot(int framesBack) const {
    return (last + columns.size() - static_cast<std::size_t>(framesBack)) % columns.size();
}

void PitchContour::advance(Column& column, const Salience& salience, bool gateOpen) {
    std::swap(cost, previous);
    const auto n = static_cast<std::size_t>(binCount);
    const auto bestIt = std::min_element(previous.begin(), previous.end() - 1);
    const auto best = static_cast<std::int16_t>(bestIt - previous.begin());
    const float jumpCost = *bestIt + costs.jump;
    const float enterCost = previous[n] + costs.voicing;
    const auto silent = static_cast<std::int16_t>(n);
    for (std::size_t b = 0; b < n; ++b) {
        float c = previous[b];
        auto from = static_cast<std::int16_t>(b);
        const auto offer = [&](float value, std::int16_t state) {
            if (value < c) {
                c = value;
                from = state;
            }
        };
        if (b > 0)
            offer(previous[b - 1] + costs.step, static_cast<std::int16_t>(b - 1));
        if (b + 1 < n)
            offer(previous[b + 1] + costs.step, static_cast<std::int16_t>(b + 1));
        offer(jumpCost, best);
        offer(enterCost, silent);
        cost[b] = c + (1.0F - salience.periodicity[b]) + (gateOpen ? 0.0F : costs.silentVoiced);
        column.from[b] = from;
    }
    const bool stay = previous[n] <= *bestIt + costs.voicing;
    cost[n] = (stay ? previous[n] : *bestIt + costs.voicing) + (gateOpen ? costs.unvoiced : 0.0F);
    column.from[n] = stay ? silent : best;
    const float least = *std::min_element(cost.begin(), cost.end());
    for (float& c : cost)
        c -= least;
}

int PitchContour::bestState() const {
    return static_cast<int>(std::min_element(cost.begin(), cost.end()) - cost.begin());
}

ContourFrame PitchContour::frameOf(const Column& column, int state) const {
    if (state == binCount)
        return {-1.0F, 0.0F, column.level};
    const auto s = static_cast<std::size_t>(state);
    return {column.midi[s], std::clamp(column.periodicity[s], 0.0F, 1.0F), column.level};
}

std::optional<ContourFrame> PitchContour::push(const Salience& salience, float level, bool gateOpen) {
    last = (last + 1) % columns.size();
    Column& column = columns[last];
    advance(column, salience, gateOpen);
    std::copy(salience.midi.begin(), salience.midi.end(), column.midi.begin());
    std::copy(salience.periodicity.begin(), salience.periodicity.end(), column.periodicity.begin());
    column.level = level;
    count = std::min(count + 1, lookAhead + 1);
    if (count <= lookAhead)
        return std::nullopt;
    int state = bestState();
    for (int back = 0; back < lookAhead; ++back)
        state = columns[slot(back)].from[static_cast<std::size_t>(state)];
    return frameOf(columns[slot(lookAhead)], state);
}

std::vector<ContourFrame> PitchContour::finish() {
    std::vector<ContourFrame> frames;
    int state = bestState();
    // The oldest of a full ring was given out by push already.
    const int open = std::min(count, lookAhead);
    for (int back = 0; back < open; ++back) {
        frames.push_back(frameOf(columns[slot(back)], state));
        state = columns[slot(back)].from[static_cast<std::size_t>(state)];
    }
    std::reverse(frames.begin(), frames.end());
    count = 0;
    std::fill(cost.begin(), cost.end(), 0.0F);
    return frames;
}

ContourFrame PitchContour::newest() const {
    return count == 0 ? ContourFrame{} : frameOf(columns[last], bestState());
}

} // namespace valveladder
