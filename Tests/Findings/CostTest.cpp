#include "Findings/Findings.h"
#include "Findings/SideBySide.h"
#include "Log/TempFolder.h"
#include "Review/Review.h"
#include "Support/FindingsTrials.h"
#include "Support/SimulatedLog.h"

#include <fmt/format.h>
#include <gtest/gtest.h>

#include <chrono>

namespace valveladder {
namespace {

using namespace simulated;

std::vector<TakeEvidence> logOf(int takes, int repeats) {
    Drill drill = fullDrill(trialInstrument());
    drill.repeats = repeats;
    Player player({{{SuspectKind::press, 3, {}, {}, {}}, 15.0}}, {}, 20240304);
    return practise(player, drill, trialInstrument(), takes, 40.0);
}

template <typename Action>
double secondsOf(const Action& action) {
    const auto start = std::chrono::steady_clock::now();
    action();
    return std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count();
}

// What the model works on grows with takes, and not at all with the notes of a take beyond one pass over
// them.
TEST(FindingsCost, WorkGrowsWithTakesAndNotWithNotesSquared) {
    const auto once = observe(logOf(4, 1), Complaint::slow);
    const auto takesTwice = observe(logOf(8, 1), Complaint::slow);
    const auto longer = observe(logOf(4, 4), Complaint::slow);
    EXPECT_EQ(takesTwice.kinds.size(), once.kinds.size());
    EXPECT_EQ(takesTwice.layouts.size(), once.layouts.size());
    EXPECT_GT(longer.observations.size(), 3 * once.observations.size());
    // Each repeat meets the accents and beats anew, until they come round.
    EXPECT_LE(longer.kinds.size(), 4 * once.kinds.size());
}

// Times are shown, not asserted: the bench tells them as ratios.
TEST(FindingsCost, FindingsOfALargeLogAreShown) {
    const int takes = trialSize(1000, 40);
    const auto half = logOf(takes / 2, 7);
    const auto whole = logOf(takes, 7);
    double notes = 0.0;
    for (const auto& take : whole)
        notes += take.notes;
    FindingsReport small, large;
    const double halfSeconds = secondsOf([&] { small = findingsIn(half, trialInstrument(), 66.0); });
    const double wholeSeconds = secondsOf([&] { large = findingsIn(whole, trialInstrument(), 66.0); });
    report(fmt::format(
        "findings of {} takes with {:.0f} notes: {:.2f} s; of half the takes {:.2f} s, ratio {:.2f}", takes,
        notes, wholeSeconds, halfSeconds, wholeSeconds / std::max(1e-9, halfSeconds)));
    ASSERT_FALSE(large.weaknesses.findings.empty());
    EXPECT_EQ(large.weaknesses.findings[0].suspect, (Suspect{SuspectKind::press, 3, {}, {}, {}}));
}

/// The log of invented practice, a thousand notes a take, in a file.
void fill(const std::filesystem::path& path, int takes) {
    auto log = LogStore::open(path);
    ASSERT_TRUE(log.ok()) << log.problem().text();
    Practice practice{.takes = takes, .firstBpm = 40.0};
    practice.drill.repeats = 7;
    Player player({{{SuspectKind::press, 3, {}, {}, {}}, 15.0}}, {}, 20240304);
    ASSERT_TRUE(keepPractice(*log.value(), player, practice).ok());
}

double reviewSeconds(const std::filesystem::path& path, int takes, const std::optional<UtcMs>& from) {
    const auto log = std::move(LogStore::openReadOnly(path).value());
    ReviewRequest request;
    request.player = "Ann";
    request.instrumentId = trialInstrument().id;
    request.fromUtc = from;
    request.now = factsOf(takes, 66.0).startedUtcMs;
    std::optional<Review> review;
    const double seconds = secondsOf([&] { review = reviewOf(*log, request).value(); });
    EXPECT_FALSE(review->findings.weaknesses.findings.empty());
    EXPECT_EQ(review->findings.weaknesses.findings.at(0).suspect,
              (Suspect{SuspectKind::press, 3, {}, {}, {}}));
    return seconds;
}

// Everything that a review says, reading included.
TEST(FindingsCost, ReviewOfALargeLogFileIsShown) {
    const TempFolder folder;
    const int takes = trialSize(1000, 40);
    fill(folder / "log.sqlite", takes);
    const double half = reviewSeconds(folder / "log.sqlite", takes, factsOf(takes / 2, 66.0).startedUtcMs);
    const double whole = reviewSeconds(folder / "log.sqlite", takes, std::nullopt);
    report(
        fmt::format("review of a log file of {} takes of 1092 notes, reading included: {:.2f} s; of half the "
                    "takes {:.2f} s, ratio {:.2f}",
                    takes, whole, half, whole / std::max(1e-9, half)));
    const auto log = std::move(LogStore::openReadOnly(folder / "log.sqlite").value());
    std::optional<Comparison> made;
    const double seconds = secondsOf([&] {
        made = compareTakes(*log, {{"a", {"Ann-1"}}, {"b", {"Ann-" + std::to_string(takes - 1)}}}).value();
    });
    report(fmt::format("two takes of that log side by side, reading included: {:.0f} ms", 1000.0 * seconds));
    EXPECT_EQ(made->notes.notes.size(), made->score.notes.size());
}

TEST(FindingsCost, SideBySideOfTwoLongTakesIsShown) {
    Drill drill = fullDrill(trialInstrument());
    drill.repeats = 7;
    const Score score = buildScore(drill, trialInstrument(), 66.0).value();
    Player player({}, {}, 1);
    const Performance first = player.play(drill, trialInstrument(), score);
    const Performance second = player.play(drill, trialInstrument(), score);
    SideBySide sides;
    const double seconds = secondsOf([&] {
        sides = sideBySide(score, {{"first", 66.0, {&first}}, {"second", 66.0, {&second}}});
    });
    report(
        fmt::format("two takes of {} notes side by side: {:.0f} ms", score.notes.size(), 1000.0 * seconds));
    EXPECT_EQ(sides.notes.size(), score.notes.size());
}

} // namespace
} // namespace valveladder
