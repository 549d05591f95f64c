// Fingers that come one after the other, heard on every instrument against plans of known truth. Rules were
// set on seeds below 1,000,000; what is counted here has others. Nothing here is a live player.
#include "Listening/Evaluation.h"
#include "Support/CorpusRun.h"
#include "Support/Scores.h"
#include "Support/SlowFingers.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <iostream>

namespace valveladder {
namespace {

using testing::TrueNote;

/// A stop that lasts so long can be told by name.
constexpr double toldMs = 20.0;

struct Heard {
    int notes = 0;
    int notRight = 0;
    int extras = 0;
    int stops = 0;
    int measured = 0;
    int long20 = 0; ///< stops of toldMs or more
    int named = 0;  ///< of these, the right fingers
    int misnamed = 0;
    int other = 0; ///< changes without a stop
    int otherMeasured = 0;
    int falselyNamed = 0; ///< of these
    std::vector<double> errorsMs;
    std::vector<double> lateErrorsMs;
    std::vector<double> otherErrorsMs;
};

void judge(Heard& sum, const testing::SoundPlan& plan, const Performance& heard) {
    sum.notes += static_cast<int>(heard.notes.size());
    sum.notRight += static_cast<int>(heard.notes.size()) - heard.count(Outcome::right);
    sum.extras += static_cast<int>(heard.extras.size());
    for (const ChangeResult& change : heard.changes) {
        const TrueNote* truth = plan.note(change.toIndex);
        if (truth == nullptr || !truth->changeoverMs)
            continue;
        if (!truth->stop) {
            ++sum.other;
            sum.falselyNamed += change.lateByMs ? 1 : 0;
            if (change.changeoverMs) {
                ++sum.otherMeasured;
                sum.otherErrorsMs.push_back(*change.changeoverMs - *truth->changeoverMs);
            }
            continue;
        }
        ++sum.stops;
        const bool right = change.lateByMs && change.lateFingers == truth->stop->late;
        sum.misnamed += change.lateByMs && !right ? 1 : 0;
        if (truth->stop->lastsMs() >= toldMs) {
            ++sum.long20;
            sum.named += right ? 1 : 0;
        }
        if (!change.changeoverMs)
            continue;
        ++sum.measured;
        sum.errorsMs.push_back(*change.changeoverMs - *truth->changeoverMs);
        if (right)
            sum.lateErrorsMs.push_back(*change.lateByMs - truth->stop->apartMs);
    }
}

/// `takes` of every `every`-th instrument.
Heard heardApart(int takes, int every) {
    constexpr std::uint32_t firstSeed = 7000000;
    Heard sum;
    std::uint32_t number = 0;
    for (int take = 0; take < takes; ++take)
        for (const Instrument& instrument : catalogue()) {
            if (++number % static_cast<std::uint32_t>(every) != 0)
                continue;
            const double bpm = 54.0 + (number * 13 + static_cast<std::uint32_t>(take) * 7) % 50;
            const Score score = test::oneRung(instrument, bpm);
            const std::uint32_t seed = firstSeed + number;
            const auto plan = testing::planFingersApart(score, instrument, bpm, seed);
            const auto sound = testing::renderBrass(plan, testing::voiceFor(instrument), seed);
            judge(sum, plan, testing::listenTo(score, sound, bpm).heard);
        }
    return sum;
}

double middleOf(const std::vector<double>& errors) {
    return quantile(magnitudesOf(errors), 0.5);
}

} // namespace

TEST(SoundFingersApart, AreOneSlowChangeAndTheLateFingerIsTold) {
    const Heard heard = heardApart(testing::corpusSize(1, 10), testing::corpusSize(3, 1));
    std::cout << heard.notes << " notes, " << heard.stops << " stops: measured " << heard.measured
              << ", changeover off by " << middleOf(heard.errorsMs) << " ms (bias "
              << quantile(heard.errorsMs, 0.5) << "), pause by " << middleOf(heard.lateErrorsMs)
              << " ms; late fingers named right " << heard.named << " of " << heard.long20
              << " that last 20 ms, wrong " << heard.misnamed << "; " << heard.extras << " extra, "
              << heard.notRight << " not right; " << heard.other << " other changes, measured "
              << heard.otherMeasured << ", off by " << middleOf(heard.otherErrorsMs) << " ms, falsely named "
              << heard.falselyNamed << "\n";
    ASSERT_GE(heard.stops, 120);
    ASSERT_GE(heard.long20, 100);
    EXPECT_GE(heard.measured, 0.95 * heard.stops);
    EXPECT_LE(middleOf(heard.errorsMs), 5.0);
    EXPECT_LE(middleOf(heard.lateErrorsMs), 5.0);
    EXPECT_GE(heard.named, 0.90 * heard.long20);
    EXPECT_LE(200 * heard.extras, heard.notes);
    EXPECT_LE(200 * heard.notRight, heard.notes);
    EXPECT_GE(heard.otherMeasured, 0.95 * heard.other);
    EXPECT_LE(200 * heard.falselyNamed, heard.other);
}

// The same fault by another way: a neighbour by mistake, long enough to be a note, is no late finger.
TEST(SoundFingersApart, ANoteOnTheCombinationBetweenIsStillAWrongNote) {
    const Instrument& trumpet = *findInstrument("trumpet-b-flat");
    constexpr double bpm = 72.0;
    const Score score = test::oneRung(trumpet, bpm);
    testing::SoundPlan plan = testing::planTake(score, bpm, {}, {}, 7100001);
    // B3 (1-2... in sounding pitch) is played as C4: open, which lies between 1 and 2.
    const auto wanted = std::ranges::find_if(plan.notes, [&](const TrueNote& note) {
        return score.notes[static_cast<std::size_t>(note.index)].written == 59;
    });
    ASSERT_NE(wanted, plan.notes.end());
    wanted->midi += 1;
    const Performance heard =
        testing::listenTo(score, testing::renderBrass(plan, testing::trumpetVoice(), 7100001), bpm).heard;
    EXPECT_EQ(heard.notes[static_cast<std::size_t>(wanted->index)].outcome, Outcome::wrong);
    EXPECT_EQ(heard.count(Outcome::wrong), 1);
    for (const ChangeResult& change : heard.changes)
        EXPECT_FALSE(change.lateByMs) << change.toIndex;
}

} // namespace valveladder
