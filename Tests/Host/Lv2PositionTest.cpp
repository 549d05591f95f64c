// The built LV2 in a bare host that tells its position as LV2 hosts do: the guide that comes out is compared
// with the Score placed by the host's true tempo map. The same sessions in a real host are in
// HostMatrixTest.cpp.

#include "Host/DefaultScore.h"
#include "Host/ExpectedGuide.h"
#include "Host/Lv2Rig.h"
#include "Host/SongMap.h"
#include "Host/TempLog.h"
#include "Plugin/Processor.h"
#include "Screen/Within.h"
#include "View/PluginWords.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <fmt/format.h>

namespace valveladder::host {

namespace {

/// As Ardour 7.3 was seen to tell it: with blocks over about a hundred samples a report for each, below that
/// one a beat; on a ramp the ramp's first tempo; behind the point of the beat quarters.
const Dialect ardourLike{"every block", true, false, 1920, false, true, true};
/// As JACK's hosts do: the meter's beats a minute, where something changed.
const Dialect jackLike{"changes only", false, false, 1920, true, false, false};
/// As jalv 1.6 does with JACK's: a meter that changes where the tempo stays is not told.
const Dialect jalvLike{"tempo changes only", false, false, 1920, true, false, false, false};

/// The bare host playing a song.
class Player {
public:
    Player(const SongMap& given, Dialect wanted, double sampleRate, int blockSamples)
        : song(given), dialect(std::move(wanted)), rate(sampleRate), block(blockSamples) {
        std::string error;
        rig = Lv2Rig::load(rate, block, error);
        EXPECT_NE(rig, nullptr) << error;
    }

    void standAt(double quarter) {
        frame = frameOf(quarter);
        rig->run(block, {reportAt(song, dialect, frame, 0, rate, false)});
        due.reset();
    }
    void rollTo(double quarter) {
        const std::int64_t end = frameOf(quarter - 0.1); // short of a note, whose side of the end is rounding
        stretches.push_back({rig->samplesRun(), frame, end});
        while (frame < end) {
            const int samples = static_cast<int>(std::min<std::int64_t>(block, end - frame));
            rig->run(samples, reports(samples));
            frame += samples;
            due = frame;
        }
    }
    void stop() {
        rig->run(block, {reportAt(song, dialect, frame, 0, rate, false)});
        due.reset();
    }

    /// Greatest distance of the guide's onsets from the score, samples; notes that are missing or too many
    /// fail.
    double worst() const {
        const auto sent = sentNotes(rig->sent(), 1);
        double furthest = 0.0;
        std::size_t next = 0;
        for (const Stretch& stretch : stretches)
            for (const ScoreNote& note : defaultScore().notes) {
                const double quarter = static_cast<double>(note.onset) / ticksPerQuarter;
                const double at = song.secondsAt(quarter) * rate;
                if (at < static_cast<double>(stretch.from) - 0.5 ||
                    at >= static_cast<double>(stretch.to) - 0.5)
                    continue;
                if (next == sent.size()) {
                    ADD_FAILURE() << "the guide has only " << next << " notes";
                    return furthest;
                }
                const double dueSample = at - static_cast<double>(stretch.from - stretch.sample);
                EXPECT_EQ(sent[next].pitch, note.sounding) << "note " << next;
                const double off = static_cast<double>(sent[next].on) - dueSample;
                EXPECT_LE(std::abs(off), allowed(quarter)) << "note " << next << " at quarter " << quarter;
                furthest = std::max(furthest, std::abs(off));
                ++next;
            }
        EXPECT_EQ(next, sent.size()) << "notes that are not in the score";
        return furthest;
    }

    Lv2Rig& host() { return *rig; }
    double extraSamples = 0.0; ///< what the dialect does not tell

private:
    struct Stretch {
        std::int64_t sample = 0;       ///< of the rig's time
        std::int64_t from = 0, to = 0; ///< frames
    };

    [[nodiscard]] std::int64_t frameOf(double quarter) const {
        return std::llround(song.secondsAt(quarter) * rate);
    }

    std::vector<TimeReport> reports(int samples) const {
        std::vector<TimeReport> result;
        const bool first = !due || *due != frame;
        if (first || dialect.everyBlock || changedAt(frame))
            result.push_back(reportAt(song, dialect, frame, 0, rate, true));
        if (!dialect.insideBlock)
            return result;
        for (int i = 1; i < samples; ++i)
            if (changesIn(frame + i - 1, frame + i))
                result.push_back(reportAt(song, dialect, frame + i, i, rate, true));
        return result;
    }

    /// A change in the block before, where the dialect tells it at the next block.
    [[nodiscard]] bool changedAt(std::int64_t at) const {
        return !dialect.insideBlock && changesIn(at - block, at);
    }
    /// A tempo or meter begins after `from`, up to `to`.
    [[nodiscard]] bool changesIn(std::int64_t from, std::int64_t to) const {
        const auto inside = [&](double quarter) {
            const double at = song.secondsAt(quarter) * rate;
            return at > static_cast<double>(from) + 1.0e-6 && at <= static_cast<double>(to) + 1.0e-6;
        };
        const bool newTempo = std::any_of(song.tempos().begin(), song.tempos().end(),
                                          [&](const auto& tempo) { return inside(tempo.quarter); });
        const bool newMeter = std::any_of(song.meters().begin(), song.meters().end(),
                                          [&](const auto& meter) { return inside(meter.quarter); });
        return newTempo || (newMeter && dialect.metersTold);
    }

    /// A tick of the host's rounding and a sample at each of two ends; and behind a step in the same block
    /// what a host that tells it only with the next block makes of it.
    [[nodiscard]] double allowed(double quarter) const {
        const double tick = dialect.ticksPerBeat > 0.0 ? 1.0 / dialect.ticksPerBeat : 0.0;
        double result = tick * 60.0 / song.bpmAt(quarter) * rate + 2.0 + extraSamples;
        for (std::size_t i = 1; i < song.tempos().size(); ++i) {
            const SongMap::Tempo& step = song.tempos()[i];
            const double since = (song.secondsAt(quarter) - song.secondsAt(step.quarter)) * rate;
            if (since >= 0.0 && since < block)
                result += since * std::abs(song.bpmAt(quarter) / song.bpmAt(step.quarter - 1.0e-6) - 1.0) +
                          since * std::abs(song.bpmAt(step.quarter - 1.0e-6) / song.bpmAt(quarter) - 1.0);
        }
        return result;
    }

    const SongMap& song;
    Dialect dialect;
    double rate;
    int block;
    std::unique_ptr<Lv2Rig> rig;
    std::int64_t frame = 0;
    std::optional<std::int64_t> due;
    std::vector<Stretch> stretches;
};

/// Tempo steps in quarters.
SongMap steps() {
    return SongMap({{0.0, 60.0}, {7.5, 97.0}, {16.0, 63.5}, {24.0, 132.0}}, {{0.0, 4, 4}});
}
/// 3/4, 4/4, 7/8 and back, at one tempo.
SongMap meters() {
    return SongMap({{0.0, 90.0}}, {{0.0, 3, 4}, {12.0, 4, 4}, {20.0, 7, 8}, {27.0, 4, 4}});
}
/// Both at once, the tempo of 7/8 counted in eighths: 150 are 75 quarters.
SongMap both() {
    return SongMap({{0.0, 120.0}, {6.0, 90.0}, {20.0, 75.0, 0.5}, {34.0, 100.0}},
                   {{0.0, 3, 4}, {12.0, 4, 4}, {20.0, 7, 8}, {34.0, 4, 4}});
}
SongMap ramp() {
    return SongMap({{0.0, 60.0}, {6.0, 60.0, 1.0, true}, {22.0, 120.0}}, {{0.0, 4, 4}});
}

class Lv2Position : public testing::Test {
protected:
    void SetUp() override {
        if (!std::filesystem::exists(builtPlugin(Format::lv2)))
            GTEST_SKIP() << "this build has no LV2";
    }

    /// From the start through `quarters`, in every dialect, rate and block.
    static void playThrough(const SongMap& song, double quarters) {
        for (const Dialect& dialect : {ardourLike, jackLike, jalvLike})
            for (const auto& [rate, block] :
                 {std::pair{44100.0, 16}, {48000.0, 64}, {48000.0, 1024}, {96000.0, 333}, {192000.0, 8192}}) {
                SCOPED_TRACE(fmt::format("{}, {} Hz, {} samples", dialect.name, rate, block));
                Player player(song, dialect, rate, block);
                player.standAt(0.0);
                player.rollTo(quarters);
                player.stop();
                player.worst();
                if (HasFailure())
                    return;
            }
    }

    TempLog log;
};

} // namespace

TEST_F(Lv2Position, TempoStepsArePassedWithoutOffset) {
    playThrough(steps(), 32.0);
}

TEST_F(Lv2Position, MetersThreeFourToFourFourToSevenEightArePassed) {
    playThrough(meters(), 35.0);
}

TEST_F(Lv2Position, TempoCountedInEighthsIsNoDoubleSpeed) {
    playThrough(both(), 42.0);
}

TEST_F(Lv2Position, MeterThatWasNotToldIsFoundByTime) {
    // 3/4, then 4/4 at the same tempo, then a report in 7/8 with a new one, and back: bar 7 begins at
    // quarter 20.
    const SongMap song({{0.0, 150.0}, {6.0, 200.0}, {20.0, 180.0}, {27.0, 210.0}},
                       {{0.0, 3, 4}, {12.0, 4, 4}, {20.0, 7, 8}, {27.0, 4, 4}});
    playThrough(song, 36.0);
    for (const int block : {64, 1024, 8192}) {
        SCOPED_TRACE(block);
        Player player(song, jalvLike, 48000.0, block);
        player.standAt(0.0);
        player.rollTo(36.0);
        player.standAt(21.5);
        player.rollTo(31.0);
        player.stop();
        player.worst();
    }
}

TEST_F(Lv2Position, GreatStepOfTempoInALargeBlockIsNoChangeOfMeter) {
    const SongMap song({{0.0, 240.0}, {9.7, 60.0}, {16.2, 240.0}, {24.0, 60.0}},
                       {{0.0, 4, 4}, {8.0, 3, 4}, {14.0, 4, 4}});
    playThrough(song, 28.0);
}

TEST_F(Lv2Position, GoingToWhereTheTempoChangedEarlierIsExact) {
    const SongMap song = steps();
    for (const Dialect& dialect : {ardourLike, jackLike}) {
        SCOPED_TRACE(dialect.name);
        Player player(song, dialect, 48000.0, 512);
        player.standAt(0.0);
        for (const double quarter : {25.25, 9.0, 17.3, 40.0}) {
            player.standAt(quarter);
            player.rollTo(quarter + 5.0);
        }
        player.stop();
        player.worst();
    }
}

TEST_F(Lv2Position, GoingBehindAMeterChangeIsExactAtOneTempo) {
    // 3/4 then 4/4: the fifth bar begins at quarter 12, not 16.
    const SongMap song({{0.0, 90.0}}, {{0.0, 3, 4}, {12.0, 4, 4}});
    Player player(song, ardourLike, 48000.0, 512);
    player.standAt(0.0);
    player.standAt(29.0);
    player.rollTo(36.0);
    player.stop();
    player.worst();
}

TEST_F(Lv2Position, WhatWasPassedOnceIsKnownWhenThePlayerGoesBack) {
    const SongMap song = both();
    Player player(song, ardourLike, 48000.0, 512);
    player.standAt(0.0);
    player.rollTo(44.0);
    for (const double quarter : {21.0, 35.0, 13.5, 4.0}) {
        player.standAt(quarter);
        player.rollTo(quarter + 4.0);
    }
    player.stop();
    player.worst();
}

TEST_F(Lv2Position, LoopsOfOneBeatStayInPlace) {
    const SongMap song = meters();
    for (const int block : {64, 1024}) {
        SCOPED_TRACE(block);
        Player player(song, ardourLike, 48000.0, block);
        player.standAt(0.0);
        player.rollTo(22.0);
        for (int pass = 0; pass < 8; ++pass) {
            player.standAt(17.0);
            player.rollTo(18.0);
        }
        player.stop();
        player.worst();
    }
}

TEST_F(Lv2Position, RampsAreFollowedFromReportToReport) {
    const SongMap song = ramp();
    for (const Dialect& dialect : {ardourLike, jackLike}) {
        for (const auto& [rate, block] : {std::pair{48000.0, 128}, {48000.0, 1024}, {44100.0, 4096}}) {
            Dialect each = dialect;
            each.everyBlock = true;
            SCOPED_TRACE(fmt::format("{}, {} samples", dialect.name, block));
            Player player(song, each, rate, block);
            // Within a block the tempo rises unseen, and on it is that of the blocks before, learnt from two
            // told places, each rounded to a tick.
            const double tick = each.ticksPerBeat > 0.0 ? rate / each.ticksPerBeat : 0.0;
            player.extraSamples = block * block * 1.5 / 60.0 * 60.0 / 60.0 / rate + 8.0 + tick;
            player.standAt(0.0);
            player.rollTo(32.0);
            player.stop();
            player.worst();
        }
    }
}

TEST(Lv2PositionAssumed, IsSaidInTheWindow) {
    const TempLog log;
    juce::AudioProcessor::setTypeOfNextNewPlugin(juce::AudioProcessor::wrapperType_LV2);
    Processor plugin;
    juce::AudioProcessor::setTypeOfNextNewPlugin(juce::AudioProcessor::wrapperType_Undefined);
    constexpr int samples = 480;
    plugin.setRateAndBufferSizeDetails(48000.0, samples);
    plugin.prepareToPlay(48000.0, samples);
    const auto tell = [&](std::int64_t frame, std::int64_t bar, double beatsPerBar, double bpm) {
        TimeReport report;
        report.frame = frame;
        report.bar = bar;
        report.barBeat = 0.0;
        report.beatsPerBar = beatsPerBar;
        report.beatUnit = 4;
        report.beatsPerMinute = bpm;
        report.speed = 1.0;
        plugin.tellTime({&report, 1});
        juce::AudioBuffer<float> audio(2, samples);
        audio.clear();
        juce::MidiBuffer midi;
        plugin.processBlock(audio, midi);
    };
    const auto said = [&] {
        const auto view = plugin.session().view();
        return view && std::ranges::any_of(view->messages, [](const SessionMessage& message) {
                   return message.text == words::positionAssumed;
               });
    };
    tell(0, 0, 3.0, 120.0);
    EXPECT_FALSE(said());
    tell(28 * 24000 + 777, 8, 4.0, 100.0); // meter and tempo have changed unseen
    EXPECT_TRUE(eventually(said));
    plugin.releaseResources();
}

} // namespace valveladder::host
