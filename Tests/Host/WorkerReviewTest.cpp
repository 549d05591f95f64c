// The plugin's worker asks the log after each take, and the session and the window hear of it.
#include "Host/HostRig.h"
#include "Host/TempLog.h"
#include "Plugin/Processor.h"
#include "Screen/Within.h"

#include <gtest/gtest.h>

#include <cmath>

namespace valveladder::host {

namespace {

constexpr double sampleRate = 48000.0;
constexpr int blockSamples = 512;
constexpr double bpm = 120.0;

/// One rung, all four segments.
SessionConfig quick() {
    SessionConfig config;
    LadderPattern ladder;
    ladder.lastTop = ladder.firstTop;
    config.drill.pattern = ladder;
    config.rules.startBpm = bpm;
    return config;
}

/// The score's notes that begin or end in the block from `from`.
juce::MidiBuffer playedIn(const Score& score, std::int64_t from) {
    const double samplesPerTick = 60.0 / bpm * sampleRate / ticksPerQuarter;
    juce::MidiBuffer midi;
    const auto put = [&](std::int64_t tick, const juce::MidiMessage& message) {
        const auto at = std::llround(static_cast<double>(tick) * samplesPerTick) - from;
        if (at >= 0 && at < blockSamples)
            midi.addEvent(message, static_cast<int>(at));
    };
    for (const ScoreNote& note : score.notes) {
        put(note.onset + note.length - 10, juce::MidiMessage::noteOff(1, note.sounding));
        put(note.onset, juce::MidiMessage::noteOn(1, note.sounding, 0.7F));
    }
    return midi;
}

void playTake(HostRig& rig, const Score& score) {
    rig.bpm = bpm;
    rig.ppq = 0.0;
    rig.playing = rig.recording = true;
    const auto end = static_cast<std::int64_t>(static_cast<double>(score.length) / ticksPerQuarter * 60.0 /
                                               bpm * sampleRate);
    for (std::int64_t at = 0; at < end; at += blockSamples)
        rig.run(blockSamples, playedIn(score, at));
    rig.playing = rig.recording = false;
    for (int i = 0; i < 100; ++i)
        rig.run(blockSamples);
}

/// The newest review that `wanted` accepts; null when none comes.
std::shared_ptr<const Reviewed> awaited(const Processor& processor,
                                        const std::function<bool(const Review&)>& wanted) {
    std::shared_ptr<const Reviewed> now;
    const bool came = eventually([&] {
        now = processor.session().review();
        return now && now->result && wanted(now->result.value());
    });
    return came ? now : nullptr;
}

} // namespace

TEST(WorkerReview, ComesAtTheStartAfterEachTakeAndForAnotherPlayer) {
    const TempLog log;
    auto made = std::make_unique<Processor>();
    Processor* processor = made.get();
    EXPECT_EQ(processor->session().review(), nullptr);
    EXPECT_EQ(processor->session().reviewing(), nullptr);
    HostRig rig(std::move(made), sampleRate, blockSamples);
    const SessionConfig config = quick();
    ASSERT_TRUE(processor->setConfig(config).ok());
    const auto first = awaited(*processor, [](const Review& review) { return review.takes == 0; });
    ASSERT_NE(first, nullptr);

    const Score score = buildScore(config.drill, config.instrument, bpm).value();
    playTake(rig, score);
    const auto after = awaited(*processor, [](const Review& review) { return review.takes == 1; });
    ASSERT_NE(after, nullptr);
    EXPECT_GT(after->number, first->number);
    EXPECT_EQ(after->result.value().listed.size(), 1U);
    EXPECT_TRUE(after->result.value().next.has_value());

    const std::string take = after->result.value().listed.front().take.header.id;
    processor->startedWorker().runOnSession([&](Session& session) { session.setPlayerNote(take, "slow"); });
    EXPECT_NE(awaited(*processor,
                      [](const Review& review) {
                          return !review.listed.empty() && review.listed.front().take.playerNote == "slow";
                      }),
              nullptr);

    SessionConfig other = config;
    other.player = "Somebody else";
    ASSERT_TRUE(processor->setConfig(other).ok());
    EXPECT_NE(awaited(*processor,
                      [](const Review& review) {
                          return review.player == "Somebody else" && review.listed.empty();
                      }),
              nullptr);
}

} // namespace valveladder::host
