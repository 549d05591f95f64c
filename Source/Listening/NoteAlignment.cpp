#include "Listening/NoteAlignment.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdint>
#include <limits>

namespace valveladder {

namespace {

using Costs = AlignmentCosts;

constexpr float never = std::numeric_limits<float>::infinity();

/// Notes missed and extra between two matches.
struct Bridge {
    int missed;
    int extra;
};

/// Those across which an interval is compared: cheapest first, so that ties go to the simplest story.
constexpr std::array<Bridge, 13> bridges{
    {{0, 0}, {1, 0}, {0, 1}, {1, 1}, {2, 0}, {0, 2}, {2, 1}, {1, 2}, {3, 0}, {0, 3}, {2, 2}, {3, 1}, {1, 3}}};

enum class Step : std::uint8_t { missed, extra, match };

/// How a match was reached: 0 by a jump, else 1 + index into bridges.
using MatchOrigin = std::uint8_t;

/// Row i: the first i expected notes are explained, and the first j heard notes, low <= j <= high.
struct Row {
    int low = 0;
    int high = 0;
    std::size_t trail = 0;      ///< where this row's steps begin
    std::vector<float> any;     ///< cheapest story
    std::vector<float> matched; ///< cheapest story that ends with expected i matched to heard j

    [[nodiscard]] std::size_t at(int j) const { return static_cast<std::size_t>(j - low); }
    [[nodiscard]] bool holds(int j) const { return j >= low && j <= high; }
    [[nodiscard]] float matchedAt(int j) const { return holds(j) ? matched[at(j)] : never; }
};

class Lattice {
public:
    Lattice(std::span<const ExpectedOnset> expectedNotes, std::span<const HeardOnset> heardNotes, int shift)
        : expected(expectedNotes), heard(heardNotes), semitones(shift) {
        edges.push_back({0, 0, 0});
        rows[0].any.assign(1, 0.0F);
        rows[0].matched.assign(1, never);
        steps.push_back(Step::missed);
        origins.push_back(0);
        for (const HeardOnset& note : heard)
            extraBefore.push_back(extraBefore.back() + static_cast<double>(note.extraCost));
    }

    Alignment run() {
        for (int i = 1; i <= static_cast<int>(expected.size()); ++i)
            fill(i);
        const int heardCount = static_cast<int>(heard.size());
        Alignment alignment;
        alignment.cost = anyAt(row(static_cast<int>(expected.size())), heardCount);
        alignment.heardFor = trace(static_cast<int>(expected.size()), heardCount);
        return alignment;
    }

private:
    struct Edge {
        int low;
        int high;
        std::size_t trail;
    };

    static constexpr int keptRows = Costs::bridge + 2;

    [[nodiscard]] Row& row(int i) { return rows[static_cast<std::size_t>(i % keptRows)]; }

    /// Of the heard notes from `fromJ` up to and without `toJ`, as extra notes.
    [[nodiscard]] float extraCost(int fromJ, int toJ) const {
        return static_cast<float>(extraBefore[static_cast<std::size_t>(toJ)] -
                                  extraBefore[static_cast<std::size_t>(fromJ)]);
    }

    /// Cheapest story up to heard note j, with whatever lies beyond the row as extra notes.
    [[nodiscard]] float anyAt(const Row& at, int j) const {
        if (j < at.low)
            return never;
        return j <= at.high ? at.any[at.at(j)] : at.any.back() + extraCost(at.high, j);
    }

    [[nodiscard]] int heardBefore(double seconds) const {
        const auto at = std::ranges::lower_bound(heard, seconds, {}, &HeardOnset::seconds);
        return static_cast<int>(at - heard.begin());
    }

    void open(int i) {
        const double seconds = expected[static_cast<std::size_t>(i - 1)].seconds;
        const int centre = heardBefore(seconds);
        Row& here = row(i);
        here.low = std::max(heardBefore(seconds - Costs::reachSeconds), centre - Costs::band / 2);
        here.high = std::min(heardBefore(seconds + Costs::reachSeconds), centre + Costs::band / 2);
        const auto width = static_cast<std::size_t>(here.high - here.low + 1);
        here.trail = steps.size();
        here.any.assign(width, never);
        here.matched.assign(width, never);
        edges.push_back({here.low, here.high, here.trail});
        steps.resize(steps.size() + width, Step::missed);
        origins.resize(origins.size() + width, 0);
    }

    void fill(int i) {
        open(i);
        Row& here = row(i);
        const Row& before = row(i - 1);
        for (int j = here.low; j <= here.high; ++j) {
            const std::size_t cell = here.at(j);
            float best = anyAt(before, j) + Costs::missed;
            Step step = Step::missed;
            if (j > here.low) {
                here.matched[cell] = matchCost(i, j, origins[here.trail + cell]);
                if (const float extra = here.any[cell - 1] + extraCost(j - 1, j); extra < best) {
                    best = extra;
                    step = Step::extra;
                }
                if (here.matched[cell] <= best) {
                    best = here.matched[cell];
                    step = Step::match;
                }
            }
            here.any[cell] = best;
            steps[here.trail + cell] = step;
        }
    }

    float matchCost(int i, int j, MatchOrigin& origin) {
        const ExpectedOnset& wanted = expected[static_cast<std::size_t>(i - 1)];
        const HeardOnset& got = heard[static_cast<std::size_t>(j - 1)];
        float best =
            anyAt(row(i - 1), j - 1) + (wanted.startsSegment ? Costs::jumpToSegment : Costs::jumpInside);
        origin = 0;
        for (std::size_t b = 0; b < bridges.size(); ++b) {
            const int fromI = i - 1 - bridges[b].missed;
            const int fromJ = j - 1 - bridges[b].extra;
            if (fromI < 1 || fromJ < 1)
                continue;
            const float reached = row(fromI).matchedAt(fromJ);
            const float passed =
                static_cast<float>(bridges[b].missed) * Costs::missed + extraCost(fromJ, j - 1);
            if (reached + passed >= best)
                continue;
            const float cost = reached + passed + intervalCost(fromI, fromJ, wanted, got);
            if (cost < best) {
                best = cost;
                origin = static_cast<MatchOrigin>(b + 1);
            }
        }
        return best + placeCost(got.seconds - wanted.seconds) +
               (got.pitch - semitones == wanted.pitch ? 0.0F : Costs::wrongPitch);
    }

    [[nodiscard]] float intervalCost(int fromI, int fromJ, const ExpectedOnset& wanted,
                                     const HeardOnset& got) const {
        const double asked = wanted.seconds - expected[static_cast<std::size_t>(fromI - 1)].seconds;
        const double played = got.seconds - heard[static_cast<std::size_t>(fromJ - 1)].seconds;
        const double scale = std::max(wanted.noteValueSeconds, Costs::minNoteValueSeconds);
        return static_cast<float>(std::abs(played - asked) / scale);
    }

    [[nodiscard]] static float placeCost(double lateSeconds) {
        return static_cast<float>(std::abs(lateSeconds) * Costs::placePerSecond);
    }

    [[nodiscard]] std::vector<int> trace(int i, int j) const {
        std::vector<int> heardFor(expected.size(), -1);
        while (i > 0) {
            const Edge& edge = edges[static_cast<std::size_t>(i)];
            if (j > edge.high) {
                j = edge.high;
                continue;
            }
            const Step step = steps[edge.trail + static_cast<std::size_t>(j - edge.low)];
            if (step == Step::missed)
                --i;
            else if (step == Step::extra)
                --j;
            else
                traceMatches(i, j, heardFor);
        }
        return heardFor;
    }

    /// Follows a run of matches back to the jump it began with.
    void traceMatches(int& i, int& j, std::vector<int>& heardFor) const {
        for (MatchOrigin origin = 1; origin != 0;) {
            heardFor[static_cast<std::size_t>(i - 1)] = j - 1;
            const Edge& edge = edges[static_cast<std::size_t>(i)];
            origin = origins[edge.trail + static_cast<std::size_t>(j - edge.low)];
            const Bridge bridge = origin == 0 ? Bridge{0, 0} : bridges[origin - 1U];
            i -= 1 + bridge.missed;
            j -= 1 + bridge.extra;
        }
    }

    std::span<const ExpectedOnset> expected;
    std::span<const HeardOnset> heard;
    int semitones;
    std::array<Row, keptRows> rows;
    std::vector<double> extraBefore{0.0}; ///< cost of the first j heard notes as extra ones
    std::vector<Edge> edges;
    std::vector<Step> steps;
    std::vector<MatchOrigin> origins;
};

} // namespace

Alignment alignNotes(std::span<const ExpectedOnset> expected, std::span<const HeardOnset> heard,
                     int semitoneShift) {
    return Lattice(expected, heard, semitoneShift).run();
}

} // namespace valveladder
