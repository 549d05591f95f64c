#include "Listening/NoteSegmenter.h"

#include <algorithm>
#include <cmath>

namespace valveladder {

namespace {

constexpr double gridSemitones = 0.5;
constexpr float cutCost = 4.0F;      ///< in frames of half a semitone's error
constexpr float unvoicedCost = 0.9F; ///< a voiced frame in a silent stretch, or the reverse
constexpr float errorCap = 1.6F;
constexpr double mergeSemitones = 0.6;
constexpr int minFrames = 4; ///< 20 ms, the least time that counts as settled
constexpr int mergeGapFrames = 3;

struct Grid {
    double low = 0.0;
    int states = 0; ///< the last is silence
};

Grid gridOf(std::span<const ContourFrame> frames) {
    float low = 1e9F;
    float high = -1.0F;
    for (const ContourFrame& f : frames)
        if (f.voiced()) {
            low = std::min(low, f.midi);
            high = std::max(high, f.midi);
        }
    if (high < 0.0F)
        return {};
    const double lowest = static_cast<double>(low);
    const double span = static_cast<double>(high) - lowest;
    return {lowest, static_cast<int>(std::ceil(span / gridSemitones)) + 2};
}

float stateError(const Grid& grid, int state, const ContourFrame& frame) {
    const bool silent = state == grid.states - 1;
    if (silent || !frame.voiced())
        return silent == !frame.voiced() ? 0.0F : unvoicedCost;
    const double off = (static_cast<double>(frame.midi) - (grid.low + state * gridSemitones)) / gridSemitones;
    return std::min(static_cast<float>(off * off), errorCap);
}

std::vector<int> bestPath(const Grid& grid, std::span<const ContourFrame> frames) {
    const auto states = static_cast<std::size_t>(grid.states);
    std::vector<float> cost(states, 0.0F);
    std::vector<std::int16_t> from(frames.size() * states);
    for (std::size_t t = 0; t < frames.size(); ++t) {
        const auto best = std::min_element(cost.begin(), cost.end());
        const auto bestState = static_cast<std::int16_t>(best - cost.begin());
        const float jump = *best + cutCost;
        for (std::size_t s = 0; s < states; ++s) {
            const bool stay = cost[s] <= jump;
            from[t * states + s] = stay ? static_cast<std::int16_t>(s) : bestState;
            cost[s] = (stay ? cost[s] : jump) + stateError(grid, static_cast<int>(s), frames[t]);
        }
        const float least = *std::min_element(cost.begin(), cost.end());
        for (float& c : cost)
            c -= least;
    }
    std::vector<int> path(frames.size());
    auto state = static_cast<std::size_t>(std::min_element(cost.begin(), cost.end()) - cost.begin());
    for (std::size_t t = frames.size(); t-- > 0;) {
        path[t] = static_cast<int>(state);
        state = static_cast<std::size_t>(from[t * states + state]);
    }
    return path;
}

Stretch measure(std::span<const ContourFrame> frames, int first, int last) {
    Stretch s{first, last, -1.0, 0.0, 0.0, 0.0};
    std::vector<float> pitches;
    std::vector<float> levels;
    double periodicity = 0.0;
    for (int i = first; i < last; ++i) {
        const ContourFrame& f = frames[static_cast<std::size_t>(i)];
        levels.push_back(f.level);
        if (f.voiced()) {
            pitches.push_back(f.midi);
            periodicity += static_cast<double>(f.periodicity);
        }
    }
    if (pitches.empty())
        return s;
    const auto middle = [](std::vector<float>& v) {
        std::nth_element(v.begin(), v.begin() + static_cast<std::ptrdiff_t>(v.size() / 2), v.end());
        return static_cast<double>(v[v.size() / 2]);
    };
    const std::size_t quarter = pitches.size() / 4;
    const std::size_t end = pitches.size() - 1 - quarter;
    if (end > quarter)
        s.drift = static_cast<double>(pitches[end] - pitches[quarter]) / static_cast<double>(end - quarter);
    s.periodicity = periodicity / static_cast<double>(pitches.size());
    s.midi = middle(pitches);
    s.level = middle(levels);
    return s;
}

std::vector<Stretch> merged(std::span<const ContourFrame> frames, const std::vector<Stretch>& raw) {
    std::vector<Stretch> notes;
    for (const Stretch& s : raw) {
        const bool joins = !notes.empty() && s.first - notes.back().last <= mergeGapFrames &&
                           std::abs(s.midi - notes.back().midi) < mergeSemitones;
        if (joins)
            notes.back() = measure(frames, notes.back().first, s.last);
        else
            notes.push_back(s);
    }
    return notes;
}

} // namespace

std::vector<Stretch> segmentContour(std::span<const ContourFrame> frames) {
    const Grid grid = gridOf(frames);
    if (grid.states == 0)
        return {};
    const std::vector<int> path = bestPath(grid, frames);
    std::vector<Stretch> raw;
    const int count = static_cast<int>(path.size());
    for (int first = 0; first < count;) {
        int last = first;
        while (last < count && path[static_cast<std::size_t>(last)] == path[static_cast<std::size_t>(first)])
            ++last;
        if (path[static_cast<std::size_t>(first)] != grid.states - 1 && last - first >= minFrames) {
            const Stretch s = measure(frames, first, last);
            if (s.midi >= 0.0)
                raw.push_back(s);
        }
        first = last;
    }
    return merged(frames, raw);
}

} // namespace valveladder
