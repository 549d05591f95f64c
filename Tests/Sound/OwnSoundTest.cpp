// Our own sound, by itself: what is heard of a guide, and at which sample.

#include "Sound/OwnSound.h"

#include "Music/BackingCues.h"
#include "Support/AllocationWatch.h"
#include "Support/FakeHost.h"
#include "Support/Scores.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <functional>
#include <numbers>
#include <vector>

namespace valveladder::test {
namespace {

using Samples = std::vector<float>;

/// Own sound in a host that rolls.
struct Stage {
    GuideTrack track;
    GuideSettings guide;
    OwnSoundSettings settings;
    OwnSound sound;
    FakeHost host;
    Samples heard;

    explicit Stage(const Score& score, double bpm = 120.0, double rate = 48000.0)
        : track(score, backingCues(score)), host(bpm, rate) {
        settings.on = true;
    }
    void clickAlone() {
        settings.tone = ToneWhen::off;
        settings.clickDb = 0.0;
    }
    void everythingAtItsLoudest() {
        settings.tone = ToneWhen::always;
        settings.clickDb = settings.toneDb = settings.backingDb = 0.0;
        guide.backing.on = {true, true, true, true};
    }
    void run(int samples) {
        const HostBlock block = host.next(samples);
        Samples out(static_cast<std::size_t>(samples), 0.0F);
        float* const channel = out.data();
        sound.follow(block, &track, guide, settings);
        sound.render(&channel, 1, samples);
        heard.insert(heard.end(), out.begin(), out.end());
    }
    void runFor(double seconds, int block) {
        auto left = std::llround(seconds * host.block.sampleRate);
        for (; left > 0; left -= block)
            run(static_cast<int>(std::min<long long>(left, block)));
    }
};

/// Where sound begins after silence.
std::vector<std::int64_t> beginnings(const Samples& heard) {
    std::vector<std::int64_t> found;
    for (std::size_t i = 0; i < heard.size(); ++i)
        if (heard[i] != 0.0F && (i == 0 || heard[i - 1] == 0.0F))
            found.push_back(static_cast<std::int64_t>(i));
    return found;
}

double peakOf(const Samples& heard, std::size_t from = 0, std::size_t to = ~std::size_t{0}) {
    double peak = 0.0;
    for (std::size_t i = from; i < std::min(to, heard.size()); ++i)
        peak = std::max(peak, std::abs(static_cast<double>(heard[i])));
    return peak;
}

double largestStep(const Samples& heard) {
    double step = 0.0, before = 0.0;
    for (const float value : heard) {
        step = std::max(step, std::abs(static_cast<double>(value) - before));
        before = static_cast<double>(value);
    }
    return step;
}

/// Amplitude of a sine of `hz` in a stretch (the sum that a discrete Fourier transform has at that place).
double strength(const Samples& heard, std::size_t from, std::size_t count, double hz, double rate) {
    double re = 0.0, im = 0.0;
    for (std::size_t i = 0; i < count; ++i) {
        const double angle = 2.0 * std::numbers::pi * hz * static_cast<double>(i) / rate;
        re += static_cast<double>(heard.at(from + i)) * std::cos(angle);
        im += static_cast<double>(heard.at(from + i)) * std::sin(angle);
    }
    return 2.0 * std::hypot(re, im) / static_cast<double>(count);
}

// A4 = 440 Hz, equal temperament (ISO 16).
double hzOf(MidiNote note) {
    return 440.0 * std::exp2((note - 69) / 12.0);
}

std::size_t sampleAt(double quarter, double bpm, double rate) {
    return static_cast<std::size_t>(std::llround(quarter * 60.0 / bpm * rate));
}

} // namespace

TEST(OwnSound, ClickBeginsAtItsSampleAtEveryRateAndBlockSize) {
    constexpr double bpm = 97.3;
    const Score score = ladderScore(bpm);
    ASSERT_EQ(score.meter.beatTicks(), ticksPerQuarter);
    for (const double rate : {44100.0, 48000.0, 88200.0, 96000.0, 176400.0, 192000.0})
        for (const int block : {1, 7, 64, 441, 8192}) {
            Stage stage(score, bpm, rate);
            stage.clickAlone();
            stage.runFor(block == 1 ? 3.0 : 12.0, block);
            std::vector<std::int64_t> expected;
            for (int beat = 0; sampleAt(beat, bpm, rate) < stage.heard.size(); ++beat)
                expected.push_back(static_cast<std::int64_t>(sampleAt(beat, bpm, rate)));
            ASSERT_GT(expected.size(), 4U);
            EXPECT_EQ(beginnings(stage.heard), expected) << rate << " Hz, blocks of " << block;
        }
}

TEST(OwnSound, IsTheSameHoweverTheBlocksAreCut) {
    const auto rendered = [](int block) {
        Stage stage(ladderScore());
        stage.everythingAtItsLoudest();
        stage.runFor(20.0, block);
        return stage.heard;
    };
    const Samples whole = rendered(8192);
    EXPECT_GT(peakOf(whole), 0.3);
    for (const int block : {16, 100, 1024})
        EXPECT_EQ(rendered(block), whole) << block;
}

TEST(OwnSound, FirstBeatOfTheBarIsHigherAndLouder) {
    Stage stage(ladderScore());
    stage.clickAlone();
    stage.runFor(2.0, 256);
    const std::size_t click = 2400; // 50 ms
    const auto hertz = [&](double quarter) {
        const std::size_t from = sampleAt(quarter, 120.0, 48000.0);
        double best = 0.0, found = 0.0;
        for (double hz = 400.0; hz < 4000.0; hz += 25.0)
            if (const double now = strength(stage.heard, from, click, hz, 48000.0); now > best) {
                best = now;
                found = hz;
            }
        return found;
    };
    EXPECT_GT(hertz(0.0), 1.3 * hertz(1.0));
    EXPECT_NEAR(hertz(1.0), hertz(2.0), 1.0);
    const auto loud = [&](double quarter) {
        const std::size_t from = sampleAt(quarter, 120.0, 48000.0);
        return peakOf(stage.heard, from, from + click);
    };
    EXPECT_GT(loud(0.0), 1.2 * loud(1.0));
}

TEST(OwnSound, ClickOfTheCountInAloneEndsWithIt) {
    const Score score = ladderScore();
    Stage stage(score);
    stage.clickAlone();
    stage.guide.click = ClickWhen::countInOnly;
    stage.runFor(8.0, 512);
    const auto beats = static_cast<std::size_t>(score.countInTicks / score.meter.beatTicks());
    EXPECT_EQ(beginnings(stage.heard).size(), beats);
}

TEST(OwnSound, ToneOfTheCountInIsTheFirstNotesPitchAndLeavesABreathBeforeIt) {
    const Score score = ladderScore();
    Stage stage(score);
    stage.guide.click = ClickWhen::off;
    ASSERT_EQ(stage.settings.tone, ToneWhen::countInOnly);
    stage.runFor(10.0, 512);
    const double start = static_cast<double>(score.countInTicks) / ticksPerQuarter;
    const std::size_t from = sampleAt(start - score.meter.beats, 120.0, 48000.0);
    const auto found = beginnings(stage.heard);
    ASSERT_FALSE(found.empty());
    EXPECT_EQ(found.front(), static_cast<std::int64_t>(from));
    const std::size_t lasts = sampleAt(score.meter.beats - 1.5, 120.0, 48000.0);
    const MidiNote first = score.notes.front().sounding;
    const double right = strength(stage.heard, from, lasts, hzOf(first), 48000.0);
    EXPECT_GT(right, 0.005);
    for (const int off : {-1, 1})
        EXPECT_LT(strength(stage.heard, from, lasts, hzOf(first + off), 48000.0), 0.1 * right);
    EXPECT_EQ(peakOf(stage.heard, sampleAt(start - 0.5, 120.0, 48000.0)), 0.0);
}

TEST(OwnSound, ToneHasTheSoundingPitchOfEveryNoteWhateverTheMidiGives) {
    const Score score = ladderScore();
    Stage stage(score);
    stage.guide.click = ClickWhen::off;
    stage.guide.soundingPitch = false;
    stage.guide.notes = false;
    stage.settings.tone = ToneWhen::always;
    stage.runFor(20.0, 512);
    int looked = 0;
    for (const ScoreNote& note : score.notes) {
        const std::size_t from = sampleAt(static_cast<double>(note.onset) / ticksPerQuarter, 120.0, 48000.0);
        const std::size_t lasts = sampleAt(static_cast<double>(note.gate) / ticksPerQuarter, 120.0, 48000.0);
        if (from + lasts >= stage.heard.size() || lasts < 4800)
            continue;
        const double right = strength(stage.heard, from, lasts, hzOf(note.sounding), 48000.0);
        for (const int off : {-2, 2})
            EXPECT_LT(strength(stage.heard, from, lasts, hzOf(note.sounding + off), 48000.0), 0.6 * right)
                << note.onset;
        ++looked;
    }
    EXPECT_GT(looked, 8);
}

TEST(OwnSound, StaysBelowFullScaleWithEverythingAtItsLoudest) {
    for (const double bpm : {40.0, 120.0, 400.0})
        for (const Score& score : variedScores()) {
            Stage stage(score, bpm);
            stage.everythingAtItsLoudest();
            stage.runFor(12.0, 2048);
            EXPECT_LT(peakOf(stage.heard), 1.0) << bpm;
        }
}

TEST(OwnSound, UsualLevelsLeaveRoomForThePlayer) {
    Stage stage(ladderScore());
    stage.settings.tone = ToneWhen::always;
    stage.guide.backing.on = {true, true, true, true};
    stage.runFor(20.0, 512);
    EXPECT_LT(peakOf(stage.heard), 0.25); // -12 dB of full scale
    EXPECT_GT(peakOf(stage.heard), 0.03); // and it is heard
}

TEST(OwnSound, LevelsAreInDecibelsAndTheLowestIsSilence) {
    const auto loud = [](double db) {
        Stage stage(ladderScore());
        stage.clickAlone();
        stage.settings.clickDb = db;
        stage.runFor(1.0, 512);
        return peakOf(stage.heard);
    };
    EXPECT_NEAR(loud(-20.0) / loud(0.0), 0.1, 1e-4);
    EXPECT_EQ(loud(OwnSoundSettings::silentDb), 0.0);
}

TEST(OwnSound, StartsStopsLoopsSwitchesAndLevelsMakeNoPop) {
    // Strokes have edges of their own, so they are left out.
    const auto stage = [] {
        Stage made(ladderScore());
        made.everythingAtItsLoudest();
        made.guide.click = ClickWhen::off;
        made.guide.backing.on = {true, true, true, false};
        return made;
    };
    Stage calm = stage();
    calm.runFor(30.0, 480);
    const double own = largestStep(calm.heard);
    Stage moved = stage();
    const auto rolled = [&](double seconds) { moved.runFor(seconds, 480); };
    for (const double target : {4.3, 5.71, 9.9, 6.33}) {
        moved.host.block.ppq = target; // a loop or jump into sounding notes
        rolled(1.237);
        moved.host.block.playing = false;
        rolled(0.5);
        moved.host.block.playing = true;
        rolled(0.411);
        moved.settings.on = false;
        rolled(0.2);
        moved.settings.on = true;
        rolled(1.513);
        moved.settings.toneDb = moved.settings.backingDb = OwnSoundSettings::silentDb;
        rolled(0.3);
        moved.settings.toneDb = moved.settings.backingDb = 0.0;
        rolled(0.7);
        moved.host.block.bypassed = true;
        rolled(0.3);
        moved.host.block.bypassed = false;
        moved.settings.tone = moved.settings.tone == ToneWhen::off ? ToneWhen::always : ToneWhen::off;
        rolled(1.1);
    }
    EXPECT_GT(peakOf(moved.heard), 0.1);
    EXPECT_LT(largestStep(moved.heard), 1.25 * own);
}

TEST(OwnSound, IsSilentWhileOffStoppedOrBypassed) {
    Stage off(ladderScore());
    off.everythingAtItsLoudest();
    off.settings.on = false;
    off.runFor(5.0, 512);
    EXPECT_EQ(peakOf(off.heard), 0.0);

    const std::initializer_list<std::function<void(Stage&)>> ends{
        [](Stage& stage) { stage.host.block.playing = false; },
        [](Stage& stage) { stage.host.block.bypassed = true; },
        [](Stage& stage) { stage.settings.on = false; }};
    for (const auto& end : ends) {
        Stage stage(ladderScore());
        stage.everythingAtItsLoudest();
        stage.runFor(5.0, 512);
        EXPECT_GT(peakOf(stage.heard), 0.0);
        end(stage);
        stage.runFor(0.3, 512); // what sounds dies away
        stage.heard.clear();
        stage.runFor(5.0, 512);
        EXPECT_EQ(peakOf(stage.heard), 0.0);
    }
}

TEST(OwnSound, IsAddedToWhatIsThereOnEveryChannel) {
    Stage stage(ladderScore());
    stage.clickAlone();
    const HostBlock block = stage.host.next(512);
    Samples left(512, 0.25F), right(512, -0.25F);
    float* const channels[] = {left.data(), right.data()};
    stage.sound.follow(block, &stage.track, stage.guide, stage.settings);
    stage.sound.render(channels, 2, 512);
    for (std::size_t i = 0; i < left.size(); ++i)
        EXPECT_NEAR(static_cast<double>(left[i] - 0.25F), static_cast<double>(right[i] + 0.25F), 1e-6);
    EXPECT_NE(left[0], 0.25F);
}

TEST(OwnSound, AllocatesNothing) {
    Stage stage(ladderScore());
    stage.everythingAtItsLoudest();
    Samples out(8192, 0.0F);
    float* const channel = out.data();
    const AllocationWatch watch;
    for (int i = 0; i < 60; ++i) {
        stage.sound.follow(stage.host.next(8192), &stage.track, stage.guide, stage.settings);
        stage.sound.render(&channel, 1, 8192);
    }
    EXPECT_EQ(watch.count(), 0U);
}

} // namespace valveladder::test
