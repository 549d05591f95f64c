// The whole chain from rendered sound: a simulated player, a made-up brass synthesis, the listener to sound,
// findings. Nothing here is a live player.
#include "Listening/SoundListener.h"
#include "Support/BrassSynth.h"
#include "Support/FindingsTrials.h"
#include "Words/SuspectWords.h"

#include <fmt/format.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

namespace valveladder {
namespace {

using namespace simulated;

constexpr double startSeconds = 0.3;
constexpr double tailSeconds = 0.6;
constexpr double longestShare = 0.6; ///< of a note's length that a changeover may take, so that notes settle

/// What the simulated player did, as a plan for the synthesis.
testing::SoundPlan planOf(const Performance& played, const Score& score) {
    std::vector<double> changeovers(score.notes.size(), 0.0);
    for (const ChangeResult& change : played.changes)
        changeovers[static_cast<std::size_t>(change.toIndex)] = change.changeoverMs.value_or(0.0);
    testing::SoundPlan plan;
    plan.startSeconds = startSeconds;
    for (const NoteResult& result : played.notes) {
        if (!result.onsetSeconds) {
            plan.missed.push_back(result.index);
            continue;
        }
        const auto index = static_cast<std::size_t>(result.index);
        testing::TrueNote note;
        note.index = result.index;
        note.onset = startSeconds + *result.onsetSeconds;
        note.offset = startSeconds + *result.offsetSeconds;
        note.midi = result.played;
        note.wrong = result.outcome == Outcome::wrong;
        const bool follows = !plan.notes.empty() && plan.notes.back().index == result.index - 1 &&
                             score.notes[index].span == score.notes[index - 1].span;
        note.tongued = !follows || changeovers[index] <= 0.0;
        if (!note.tongued)
            note.changeoverMs = changeovers[index];
        plan.notes.push_back(note);
    }
    for (std::size_t i = 0; i < plan.notes.size(); ++i) {
        testing::TrueNote& note = plan.notes[i];
        if (i + 1 < plan.notes.size() && !plan.notes[i + 1].tongued)
            note.offset = plan.notes[i + 1].onset;
        if (note.changeoverMs)
            note.changeoverMs =
                std::min(*note.changeoverMs,
                         1000.0 * longestShare *
                             std::min(note.offset - note.onset, note.onset - plan.notes[i - 1].onset));
    }
    plan.length = plan.notes.empty() ? startSeconds + 1.0 : plan.notes.back().offset + tailSeconds;
    return plan;
}

Performance heard(const testing::SoundTake& take, const Score& score, double bpm) {
    SoundSettings settings;
    settings.sampleRate = take.rate;
    settings.tempo = TempoMap(bpm);
    settings.startSeconds = take.truth.startSeconds;
    SoundListener listener(score, settings);
    constexpr std::size_t block = 4096;
    const std::span<const float> all(take.samples);
    for (std::size_t at = 0; at < all.size(); at += block)
        listener.push(all.subspan(at, std::min(block, all.size() - at)));
    return listener.finish();
}

TEST(FindingsPower, FortyMsIsNamedFromRenderedSoundWithinThreeTakes) {
    constexpr double extraMs = 40.0, bpm = 66.0;
    constexpr int takes = 3, oftenEnough = 8;
    const int players = trialSize(40, 2, 1);
    const Drill drill = fullDrill(trialInstrument());
    const Score score = buildScore(drill, trialInstrument(), bpm).value();
    const auto suspects = plantable(drill, trialInstrument(), oftenEnough);
    int named = 0;
    for (int i = 0; i < players; ++i) {
        const Suspect& suspect = suspects[static_cast<std::size_t>(i) % suspects.size()];
        Player player({{suspect, extraMs}}, {}, 90000 + static_cast<std::uint64_t>(i));
        std::vector<TakeEvidence> evidence;
        for (int take = 0; take < takes; ++take) {
            const auto plan = planOf(player.play(drill, trialInstrument(), score), score);
            const auto seed = static_cast<std::uint32_t>(i * takes + take);
            const auto sound = testing::renderBrass(plan, testing::euphoniumVoice(), seed);
            evidence.push_back(
                evidenceOf(factsOf(take, bpm), drill, trialInstrument(), score, heard(sound, score, bpm)));
        }
        const auto found = findWeaknesses(evidence).findings;
        const bool right =
            !found.empty() && found.front().complaint == Complaint::slow && found.front().suspect == suspect;
        named += right ? 1 : 0;
        if (!right)
            report(
                fmt::format("    rendered sound, {} planted: {}", inWords(suspect),
                            found.empty() ? "nothing claimed" : inWords(found.front().suspect) + " named"));
    }
    report(fmt::format("from rendered sound, planted {:.0f} ms, {} takes: named first and claimed {} of {}",
                       extraMs, takes, named, players));
    const double spread = std::sqrt(0.95 * 0.05 * players);
    // At CI size, where chance alone would excuse anything, one miss at most is excused.
    EXPECT_GE(named, fullSize() ? std::ceil(0.95 * players)
                                : std::max(1.0, std::floor(0.95 * players - 3.1 * spread)));
}

} // namespace
} // namespace valveladder
