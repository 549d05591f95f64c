#include "Guide/DrillPosition.h"
#include "Guide/HostTime.h"
#include "Support/Scores.h"
#include "Support/Settings.h"
#include "Takes/TakeWatch.h"

#include <gtest/gtest.h>

#include <cmath>
#include <limits>
#include <random>

namespace valveladder::test {
namespace {

/// A take that the story's own record says must have been noticed: a lap's window covered from end to end
/// without a break.
struct Covered {
    std::int64_t from = 0;
    std::int64_t to = 0;
    std::int64_t lap = 0;
};

/// Plays random host behaviour to a TakeWatch.
class TakeStory {
public:
    TakeStory(std::uint64_t seed, const std::vector<Score>& scores)
        : random(seed), score(scores[seed % scores.size()]), watch(static_cast<TakeWay>(below(5))) {
        settings.startPpq = chance(0.5) ? 0.0 : std::round(real(-5.0, 20.0));
        settings.repeat = chance(0.8);
        ppq = settings.startPpq + real(-2.0, 4.0);
        sample = static_cast<std::int64_t>(below(100000));
        block.playing = true;
        block.recording = chance(0.7);
        block.looping = chance(0.5);
        bpm = real(100.0, 400.0);
    }

    void run() {
        const std::size_t phases = 2 + below(8);
        for (std::size_t phase = 0; phase < phases; ++phase) {
            change();
            for (int blocks = 1 + static_cast<int>(below(400)); blocks > 0; --blocks)
                step(chance(0.02) ? 0 : 1 + static_cast<int>(below(std::size_t{1} << (1 + below(12)))));
        }
        if (const auto edge = watch.close())
            edges.push_back(*edge);
    }

    std::vector<TakeEdge> edges;
    std::vector<Covered> covered; ///< recorded passes that ran from first note to last
    std::int64_t sample = 0;
    [[nodiscard]] TakeWay way() const { return watch.way(); }

private:
    std::size_t below(std::size_t n) { return std::uniform_int_distribution<std::size_t>(0, n - 1)(random); }
    double real(double a, double b) { return std::uniform_real_distribution<double>(a, b)(random); }
    bool chance(double p) { return real(0.0, 1.0) < p; }

    void change() {
        switch (below(6)) {
        case 0:
            ppq = settings.startPpq + real(-2.0, 60.0);
            block.jumped = true;
            break;
        case 1:
            block.playing = chance(0.7);
            break;
        case 2:
            block.recording = chance(0.8);
            break;
        case 3:
            block.bypassed = chance(0.2);
            break;
        case 4:
            block.looping = chance(0.7);
            break;
        default:
            bpm = real(100.0, 400.0);
            break;
        }
    }

    void step(int samples) {
        const DrillWindow window = drillWindow(score, settings, ppq);
        block.startSample = sample;
        block.samples = samples;
        block.sampleRate = 8000.0;
        block.ppq = chance(0.001) ? std::numeric_limits<double>::quiet_NaN() : ppq;
        block.bpm = bpm;
        block.lap = window.lap;
        block.takeStartPpq = window.startPpq;
        block.takeEndPpq = window.endPpq;
        block.lapQuarters = window.lapQuarters;
        block.heard = chance(0.1);
        block.marks = chance(0.01) ? 1 : 0;
        block.handPresses = chance(0.01) ? 1 : 0;
        for (const TakeEdge& edge : watch.watch(block))
            edges.push_back(edge);
        if (samples > 0)
            note(samples);
        sample += samples;
    }

    /// Keeps the story's own record of unbroken recorded passes.
    void note(int samples) {
        const bool recorded = block.playing && block.recording && !block.bypassed && !std::isnan(*block.ppq);
        if (!recorded || block.jumped)
            passes.clear();
        const double perQuarter = 60.0 / bpm * block.sampleRate;
        const double after = ppq + samples / perQuarter;
        if (recorded) {
            const double length = static_cast<double>(score.length) / ticksPerQuarter;
            for (int lap = 0; lap == 0 || (settings.repeat && lap * length + settings.startPpq < after);
                 ++lap) {
                const DrillWindow w = drillWindow(score, settings, settings.startPpq + lap * length);
                const auto sampleOf = [&](double at) {
                    return sample + static_cast<std::int64_t>(std::floor((at - ppq) * perQuarter + 0.5));
                };
                if (w.startPpq >= ppq && w.startPpq < after)
                    passes.push_back({sampleOf(w.startPpq), 0, lap});
                if (w.endPpq >= ppq && w.endPpq < after - 1.0 / perQuarter)
                    for (Covered& pass : passes)
                        if (pass.lap == lap) {
                            pass.to = sampleOf(w.endPpq);
                            covered.push_back(pass);
                        }
            }
        }
        if (block.playing)
            ppq = after;
        block.jumped = false;
    }

    std::mt19937_64 random;
    const Score& score;
    GuideSettings settings;
    TakeWatch watch;
    WatchedBlock block;
    std::vector<Covered> passes;
    double ppq = 0.0;
    double bpm = 120.0;
};

std::vector<Score> shortScores() {
    return {smallScore({{4.0, 1.0, 60, Combination{}}, {5.0, 1.5, 62, Combination{}}}),
            smallScore({{0.0, 1.0, 60, Combination{}}, {1.0, 1.0, 62, Combination{}}}, 2.0, 0.0),
            smallScore({{2.25, 0.5, 60, Combination{}}}, 3.0, 2.0)};
}

TEST(TakeStories, EdgesAlternateNeverRunBackwardsAndStayInOneLap) {
    const std::vector<Score> scores = shortScores();
    const std::int64_t stories = setting("VALVE_LADDER_STORIES", 10000) / 5;
    const std::uint64_t first = seed();
    std::size_t takes = 0;
    for (std::int64_t i = 0; i < stories; ++i) {
        TakeStory story(first + static_cast<std::uint64_t>(i), scores);
        story.run();
        ASSERT_EQ(story.edges.size() % 2, 0U) << i;
        for (std::size_t e = 0; e < story.edges.size(); ++e) {
            const bool begins = e % 2 == 0;
            ASSERT_EQ(story.edges[e].kind, begins ? TakeEdge::Kind::begin : TakeEdge::Kind::end) << i;
            ASSERT_TRUE(e == 0 || story.edges[e].sample >= story.edges[e - 1].sample) << i;
            ASSERT_TRUE(begins || story.edges[e].lap == story.edges[e - 1].lap) << i;
            ASSERT_LE(story.edges[e].sample, story.sample) << i;
        }
        takes += story.edges.size() / 2;
    }
    EXPECT_GT(takes, static_cast<std::size_t>(stories));
}

TEST(TakeStories, EveryRecordedPassFullyCoveredIsExactlyOneWholeTake) {
    const std::vector<Score> scores = shortScores();
    const std::int64_t stories = setting("VALVE_LADDER_STORIES", 10000) / 5;
    const std::uint64_t first = seed();
    std::size_t passes = 0;
    for (std::int64_t i = 0; i < stories; ++i) {
        TakeStory story(first + static_cast<std::uint64_t>(i), scores);
        if (story.way() != TakeWay::recordingPass)
            continue;
        story.run();
        for (const Covered& pass : story.covered) {
            int found = 0;
            for (std::size_t e = 1; e < story.edges.size(); e += 2)
                if (story.edges[e].lap == pass.lap && story.edges[e].end == TakeEnd::whole &&
                    std::abs(story.edges[e - 1].sample - pass.from) <= 1 &&
                    std::abs(story.edges[e].sample - pass.to) <= 1)
                    ++found;
            ASSERT_EQ(found, 1) << "story " << i << ", lap " << pass.lap << ", " << pass.from << ".."
                                << pass.to;
        }
        passes += story.covered.size();
    }
    EXPECT_GT(passes, static_cast<std::size_t>(stories) / 5);
}

} // namespace
} // namespace valveladder::test
