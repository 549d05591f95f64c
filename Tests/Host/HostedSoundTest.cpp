// A take of sound, its round trip and what the queue loses, through the processor and the built plugin. All
// sound is rendered: see Support/BrassSynth.h. Nothing here is a live player.
#include "Host/HostRig.h"
#include "Host/TempLog.h"
#include "Log/LogStore.h"
#include "Plugin/Processor.h"
#include "Screen/Within.h"
#include "Support/BrassSynth.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <chrono>
#include <cmath>
#include <iostream>
#include <regex>
#include <thread>

namespace valveladder::host {

namespace {

using testing::SoundPlan;
using testing::TrueNote;

constexpr double sampleRate = 48000.0;
constexpr int blockSamples = 256;

/// One rung, all four segments.
SessionConfig quick() {
    SessionConfig config;
    LadderPattern ladder;
    ladder.lastTop = ladder.firstTop;
    config.drill.pattern = ladder;
    config.rules.startBpm = 90.0;
    return config;
}

Score quickScore() {
    const SessionConfig config = quick();
    return buildScore(config.drill, config.instrument, config.rules.startBpm).value();
}

/// A JUCE host keeps a VST3's state as XML around the plugin's own bytes.
void giveState(juce::AudioProcessor& plugin, const PluginState& state) {
    const std::string text = toStateText(state);
    juce::XmlElement xml("VST3PluginState");
    xml.createNewChildElement("IComponent")
        ->addTextElement(juce::MemoryBlock(text.data(), text.size()).toBase64Encoding());
    juce::MemoryBlock block;
    juce::AudioProcessor::copyXmlToBinary(xml, block);
    plugin.setStateInformation(block.getData(), static_cast<int>(block.getSize()));
}

/// Records while `sound` plays, from the transport's zero, and stands still for a second after it.
void record(HostRig& rig, double bpm, const std::vector<float>& sound) {
    rig.bpm = bpm;
    rig.playing = rig.recording = true;
    std::vector<float> block(blockSamples);
    for (std::size_t at = 0; at < sound.size() + 48000; at += blockSamples) {
        if (at >= sound.size())
            rig.playing = rig.recording = false;
        for (std::size_t i = 0; i < block.size(); ++i)
            block[i] = at + i < sound.size() ? sound[at + i] : 0.0F;
        rig.run(blockSamples, {}, &block);
    }
}

std::optional<TakeRecord> firstTake(const std::filesystem::path& log) {
    std::optional<TakeRecord> first;
    (void)eventually([&] {
        if (const auto store = LogStore::openReadOnly(log); store.ok())
            if (const auto takes = store.value()->takes({}); takes.ok() && !takes.value().empty())
                first = store.value()->take(takes.value().front().header.id).value();
        return first.has_value();
    });
    return first;
}

testing::SoundTake rendered(const SoundPlan& plan) {
    return testing::renderBrass(plan, testing::trumpetVoice(), 71, sampleRate);
}

SoundPlan quickPlan(const testing::PlanFaults& faults) {
    testing::PlanStyle style;
    style.minChangeoverMs = 20.0;
    style.maxChangeoverMs = 120.0;
    style.startSeconds = 0.0;
    return planTake(quickScore(), 90.0, style, faults, 71);
}

/// A processor in a rig whose output comes back to its input after a delay, as by a cable.
class LoopedRig {
public:
    LoopedRig() {
        auto made = std::make_unique<Processor>();
        processor = made.get();
        rig = std::make_unique<HostRig>(std::move(made), sampleRate, blockSamples);
    }

    /// `delaySamples` of a block at least.
    void run(std::size_t delaySamples, float gain) {
        std::vector<float> input(blockSamples);
        for (std::size_t i = 0; i < input.size(); ++i)
            if (const std::size_t now = sent.size() + i; now >= delaySamples)
                input[i] = gain * sent[now - delaySamples];
        rig->run(blockSamples, {}, &input);
        for (int i = 0; i < blockSamples; ++i)
            sent.push_back(rig->output(0, i));
    }

    [[nodiscard]] SessionView view() {
        std::shared_ptr<SessionView> now;
        processor->startedWorker().runOnSession(
            [&](Session& session) { now = std::make_shared<SessionView>(session.view()); });
        return *now;
    }

    Processor* processor = nullptr;
    std::unique_ptr<HostRig> rig;
    std::vector<float> sent; ///< all that came out
};

bool said(const SessionView& view, const std::string& words) {
    return std::ranges::any_of(view.messages, [&](const SessionMessage& message) {
        return message.text.find(words) != std::string::npos;
    });
}

/// The sum over all messages that tell of it.
std::uint64_t samplesSaidToBeMissing(const SessionView& view) {
    const std::regex form("([0-9]+) samples of sound are missing");
    std::uint64_t sum = 0;
    for (const SessionMessage& message : view.messages)
        if (std::smatch found; std::regex_search(message.text, found, form))
            sum += std::stoull(found[1]);
    return sum;
}

/// Runs blocks until the measurement is over, or ten seconds of sound are through.
void runMeasurement(LoopedRig& looped, std::size_t delaySamples, float gain) {
    for (int i = 0; i < 10 * 48000 / blockSamples; ++i) {
        looped.run(delaySamples, gain);
        if (i % 100 == 0 && i > 0)
            (void)looped.view(); // lets the worker keep up
    }
}

} // namespace

class HostedSound : public ::testing::TestWithParam<Format> {
protected:
    void SetUp() override {
        if (!std::filesystem::exists(builtPlugin(GetParam())))
            GTEST_SKIP() << "this build has no " << builtPlugin(GetParam());
    }
    TempLog log;
};

TEST_P(HostedSound, ATakeOfSoundThroughThePluginIsInTheLogNoteByNote) {
    std::string error;
    const auto rig = HostRig::load(GetParam(), sampleRate, blockSamples, error);
    ASSERT_NE(rig, nullptr) << error;
    rig->plugin().setNonRealtime(true);
    PluginState state{quick(), {}};
    state.config.roundTripMs = 0.0;
    state.config.keepSound.on = true;
    giveState(rig->plugin(), state);
    const SoundPlan plan = quickPlan({.jitterMs = 6.0, .wrong = 2, .missed = 1});
    const auto sound = rendered(plan);
    record(*rig, 90.0, sound.samples);
    const auto take = firstTake(log.log());
    ASSERT_TRUE(take.has_value());
    EXPECT_EQ(take->performance.source, Source::sound);
    EXPECT_EQ(take->state, TakeState::whole);
    EXPECT_EQ(take->roundTripFrom, RoundTripFrom::byHand);
    ASSERT_EQ(take->performance.notes.size(), quickScore().notes.size());
    for (const NoteResult& note : take->performance.notes) {
        const bool missed = std::ranges::find(plan.missed, note.index) != plan.missed.end();
        const bool wrong = std::ranges::any_of(
            plan.notes, [&](const TrueNote& t) { return t.index == note.index && t.wrong; });
        EXPECT_EQ(note.outcome, missed  ? Outcome::missed
                                : wrong ? Outcome::wrong
                                        : Outcome::right)
            << "note " << note.index;
    }
    std::vector<double> errors;
    for (const ChangeResult& change : take->performance.changes)
        for (const TrueNote& truth : plan.notes)
            if (truth.index == change.toIndex && truth.changeoverMs && change.changeoverMs)
                errors.push_back(std::abs(*change.changeoverMs - *truth.changeoverMs));
    ASSERT_GT(errors.size(), 10U);
    std::ranges::sort(errors);
    EXPECT_LE(errors[errors.size() / 2], 5.0) << "median changeover error, ms";
    EXPECT_TRUE(std::filesystem::exists(log.folder() / take->soundFile)) << take->soundFile;
    EXPECT_FALSE(take->soundFile.empty());
}

INSTANTIATE_TEST_SUITE_P(Built, HostedSound, ::testing::Values(Format::vst3),
                         [](const auto& made) { return made.param == Format::vst3 ? "Vst3" : "Lv2"; });

TEST(PluginSound, TheViewIsThereSoonAfterTheBlockOnARealClock) {
    const TempLog log;
    auto made = std::make_unique<Processor>();
    Processor* processor = made.get();
    HostRig rig(std::move(made), sampleRate, blockSamples);
    ASSERT_TRUE(processor->setConfig(quick()).ok());
    const auto sound = rendered(quickPlan({}));
    rig.bpm = 90.0;
    rig.playing = rig.recording = true;
    std::vector<float> block(blockSamples);
    std::vector<double> late;
    int shown = -1;
    const auto begun = std::chrono::steady_clock::now();
    const std::size_t enough = std::min<std::size_t>(sound.samples.size(), 48000U * 8U);
    for (std::size_t at = 0; at + blockSamples <= enough; at += blockSamples) {
        std::copy_n(sound.samples.begin() + static_cast<std::ptrdiff_t>(at), blockSamples, block.begin());
        std::this_thread::sleep_until(
            begun + std::chrono::duration_cast<std::chrono::steady_clock::duration>(
                        std::chrono::duration<double>(static_cast<double>(at + blockSamples) / sampleRate)));
        rig.run(blockSamples, {}, &block);
        const auto view = processor->session().view();
        if (!view || !view->live || view->live->index <= shown)
            continue;
        shown = view->live->index;
        for (const TrueNote& note : sound.truth.notes)
            if (note.index == shown)
                late.push_back(1000.0 * (static_cast<double>(at + blockSamples) / sampleRate - note.onset));
    }
    // How many notes a busy machine shows one by one is its own affair; that the last ones come is the
    // plugin's.
    EXPECT_TRUE(eventually([&] {
        const auto view = processor->session().view();
        return view && view->live && view->live->index >= std::max(shown, 1);
    }));
    ASSERT_FALSE(late.empty());
    std::ranges::sort(late);
    std::cout << "on a real clock: " << late.size() << " notes shown, median " << late[late.size() / 2]
              << " ms, 90 % " << late[late.size() * 9 / 10]
              << " ms from onset to view (trumpet; the screen's frame not counted)\n";
}

TEST(PluginSound, OverrunIsCountedShownAndKeptWithTheTake) {
    const TempLog log;
    auto made = std::make_unique<Processor>();
    Processor* processor = made.get();
    HostRig rig(std::move(made), sampleRate, blockSamples);
    ASSERT_TRUE(processor->setConfig(quick()).ok());
    rig.bpm = 90.0;
    rig.playing = rig.recording = true;
    const std::vector<float> loud(blockSamples, 0.2F);
    const auto run = [&](int blocks) {
        for (int i = 0; i < blocks; ++i)
            rig.run(blockSamples, {}, &loud);
    };
    const double countIn = static_cast<double>(quickScore().countInTicks) / ticksPerQuarter;
    run(static_cast<int>((countIn + 1.0) * 60.0 / 90.0 * sampleRate) / blockSamples);
    processor->startedWorker().runOnSession([](Session& session) { EXPECT_TRUE(session.view().inTake); });
    // The worker is held up while more comes than the queue holds.
    std::mutex held;
    held.lock();
    std::thread other([&] {
        processor->startedWorker().runOnSession([&](Session&) { const std::lock_guard wait(held); });
    });
    while (processor->losses().samples < 2000)
        run(1);
    held.unlock();
    other.join();
    rig.playing = rig.recording = false;
    for (int i = 0; i < 300; ++i)
        rig.run(blockSamples, {}, nullptr);
    const FeedLosses losses = processor->losses();
    ASSERT_TRUE(losses.any());
    processor->startedWorker().closeTake();
    SessionView view;
    processor->startedWorker().runOnSession([&](Session& session) { view = session.view(); });
    EXPECT_EQ(samplesSaidToBeMissing(view), losses.samples) << "in one message or in several";
    const auto store = LogStore::openReadOnly(log.log());
    ASSERT_TRUE(store.ok());
    const auto takes = store.value()->takes({});
    ASSERT_TRUE(takes.ok());
    EXPECT_TRUE(std::ranges::any_of(takes.value(), [](const TakeSummary& take) {
        return std::ranges::any_of(take.messages, [](const std::string& message) {
            return message.find("could not keep up") != std::string::npos;
        });
    }));
}

TEST(PluginSound, RoundTripIsMeasuredThroughALoopOfKnownDelay) {
    for (const std::size_t delay : {std::size_t{480}, std::size_t{4321}}) {
        const TempLog log;
        LoopedRig looped;
        ASSERT_TRUE(looped.processor->measureRoundTrip().ok());
        EXPECT_FALSE(looped.processor->measureRoundTrip().ok()) << "one at a time";
        runMeasurement(looped, delay, -0.5F);
        const SessionView view = looped.view();
        EXPECT_EQ(view.roundTrip.from, RoundTripFrom::measured);
        ASSERT_TRUE(view.roundTrip.ms.has_value());
        EXPECT_NEAR(*view.roundTrip.ms, 1000.0 * static_cast<double>(delay) / sampleRate, 0.05);
        EXPECT_TRUE(said(view, "The round trip is"));
        const auto store = LogStore::openReadOnly(log.log());
        ASSERT_TRUE(store.ok());
        EXPECT_EQ(store.value()->roundTripMs(view.roundTrip.device).value(), view.roundTrip.ms)
            << "kept for this device: " << view.roundTrip.device;
    }
}

TEST(PluginSound, RoundTripWithoutALoopIsRefusedWithAReason) {
    const TempLog log;
    LoopedRig looped;
    ASSERT_TRUE(looped.processor->measureRoundTrip().ok());
    runMeasurement(looped, 480, 0.0F);
    const SessionView view = looped.view();
    EXPECT_EQ(view.roundTrip.from, RoundTripFrom::none);
    EXPECT_TRUE(said(view, "nothing at all came in"));
    ASSERT_TRUE(looped.processor->measureRoundTrip().ok()) << "and can be tried again";
}

TEST(PluginSound, RoundTripIsNotMeasuredWhileTheTransportRuns) {
    const TempLog log;
    LoopedRig looped;
    looped.rig->playing = true;
    looped.run(480, 0.5F);
    (void)looped.view();
    const auto refused = looped.processor->measureRoundTrip();
    ASSERT_FALSE(refused.ok());
    EXPECT_NE(refused.problem().text().find("transport"), std::string::npos);
    looped.rig->playing = false;
    looped.run(480, 0.5F);
    (void)looped.view();
    ASSERT_TRUE(looped.processor->measureRoundTrip().ok());
    for (int i = 0; i < 100; ++i)
        looped.run(480, 0.5F);
    looped.rig->playing = true;
    looped.run(480, 0.5F);
    EXPECT_TRUE(said(looped.view(), "the transport started meanwhile"));
    const std::vector<float> loud(blockSamples, 0.3F);
    looped.rig->run(blockSamples, {}, &loud);
    EXPECT_EQ(looped.rig->output(0, 0), 0.3F) << "what comes in goes through again";
}

TEST(PluginSound, ClicksStandAloneOnTheOutput) {
    const TempLog log;
    LoopedRig looped;
    ASSERT_TRUE(looped.processor->measureRoundTrip().ok());
    const std::vector<float> loud(blockSamples, 0.3F);
    float most = 0.0F;
    float first = 1.0F;
    for (int i = 0; i < 48000 / blockSamples; ++i) {
        looped.rig->run(blockSamples, {}, &loud);
        for (int s = 0; s < blockSamples; ++s) {
            EXPECT_EQ(looped.rig->output(0, s), looped.rig->output(1, s));
            most = std::max(most, std::abs(looped.rig->output(0, s)));
        }
        if (i == 0)
            first = looped.rig->output(0, 0);
    }
    EXPECT_EQ(first, 0.0F) << "input does not run through meanwhile";
    EXPECT_GT(most, 0.9F * RoundTripClicks::level);
    EXPECT_LE(most, RoundTripClicks::level);
}

} // namespace valveladder::host
