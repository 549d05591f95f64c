// Takes of sound in the session, by rendered players: see Support/BrassSynth.h. Nothing here is a live
// player.
#include "Listening/Evaluation.h"
#include "Session/SoundStage.h"
#include "Support/SoundScoring.h"
#include "Words/RemarkWords.h"

#include <gtest/gtest.h>

#include <chrono>
#include <cmath>
#include <iostream>

namespace valveladder {
namespace {

using testing::SoundPlan;
using testing::SoundStage;
using testing::TrueNote;

int notesOf(const SoundStage& stage) {
    return static_cast<int>(stage.score().notes.size());
}

/// By score index: what the plan says of each note.
void expectAsPlanned(const Performance& heard, const SoundPlan& plan) {
    for (const NoteResult& note : heard.notes) {
        const bool missed = std::ranges::find(plan.missed, note.index) != plan.missed.end();
        const bool wrong = std::ranges::any_of(
            plan.notes, [&](const TrueNote& t) { return t.index == note.index && t.wrong; });
        const Outcome planned = missed ? Outcome::missed : wrong ? Outcome::wrong : Outcome::right;
        EXPECT_EQ(note.outcome, planned) << "note " << note.index;
    }
}

std::vector<double> changeoverErrors(const Performance& heard, const SoundPlan& plan) {
    std::vector<double> errors;
    for (const ChangeResult& change : heard.changes)
        for (const TrueNote& truth : plan.notes)
            if (truth.index == change.toIndex && truth.changeoverMs && change.changeoverMs)
                errors.push_back(*change.changeoverMs - *truth.changeoverMs);
    return errors;
}

TEST(SessionSound, ATakeOfSoundIsMeasuredNoteByNote) {
    SessionConfig config = SoundStage::quick();
    config.drill.segments = Drill{}.segments; // all four
    SoundStage stage(config);
    const SoundPlan plan = stage.plan({.jitterMs = 6.0, .wrong = 2, .missed = 1}, 21);
    stage.play(plan, 21);
    stage.rollTo(stage.lapQuarters());
    stage.stop();
    ASSERT_EQ(stage.takes().size(), 1U);
    const TakeRecord take = stage.take();
    EXPECT_EQ(take.state, TakeState::whole);
    EXPECT_EQ(take.performance.source, Source::sound);
    ASSERT_EQ(static_cast<int>(take.performance.notes.size()), notesOf(stage));
    expectAsPlanned(take.performance, plan);
    const auto errors = magnitudesOf(changeoverErrors(take.performance, plan));
    ASSERT_GT(errors.size(), 10U);
    EXPECT_LE(quantile(errors, 0.5), 5.0);
    EXPECT_NEAR(take.performance.asynchronyMs->value, 0.0, 10.0);
    EXPECT_EQ(stage.takes().front().wrong, 2) << "the list shows it";
    EXPECT_TRUE(stage.session->view().playedToday);
}

TEST(SessionSound, ACleanTakePassesAndStepsTheTempo) {
    SoundStage stage;
    stage.config.rules.stepPerTake = 2.0;
    stage.open();
    stage.playPass();
    stage.rollTo(stage.lapQuarters());
    stage.stop();
    EXPECT_TRUE(stage.take().passed);
    EXPECT_TRUE(stage.take().performance.clean());
    EXPECT_DOUBLE_EQ(stage.session->setup()->planned.bpm, 92.0);
}

TEST(SessionSound, VerdictIsThereWithinOneSecondOfTheTakesEnd) {
    SoundStage stage;
    stage.playPass();
    bool begun = false;
    double waited = 0.0;
    double slowestBlock = 0.0;
    auto last = std::chrono::steady_clock::now();
    stage.afterBlock = [&] {
        const auto now = std::chrono::steady_clock::now();
        slowestBlock = std::max(slowestBlock, std::chrono::duration<double>(now - last).count());
        last = now;
        const SessionView view = stage.session->view();
        begun = begun || view.inTake;
        if (begun && !view.playedToday && !view.inTake)
            waited += stage.blockSamples / stage.rate;
    };
    stage.rollTo(stage.lapQuarters());
    stage.stop();
    ASSERT_EQ(stage.takes().size(), 1U);
    std::cout << "verdict " << 1000.0 * waited << " ms after the end, and " << 1000.0 * slowestBlock
              << " ms for the slowest block\n";
    EXPECT_LT(waited, 0.5) << "of sound waited for; reckoning is told above";
}

TEST(SessionSound, APartialTakeExpectsWhatItCovers) {
    SoundStage stage;
    stage.playPass();
    const auto& notes = stage.score().notes;
    const double half = static_cast<double>(notes[notes.size() / 2].onset) / ticksPerQuarter;
    stage.rollTo(half + 0.25);
    stage.sound.resize(static_cast<std::size_t>(stage.at)); // the player stops, too
    stage.stop();
    const TakeRecord take = stage.take();
    EXPECT_EQ(take.state, TakeState::cutShort);
    EXPECT_NEAR(static_cast<double>(take.performance.notes.size()), static_cast<double>(notes.size()) / 2.0,
                2.0);
    EXPECT_LE(take.performance.count(Outcome::missed), 1);
    EXPECT_EQ(take.performance.count(Outcome::wrong), 0);
}

TEST(SessionSound, RecordingThatBeginsLateExpectsTheRest) {
    SoundStage stage;
    stage.playPass();
    const auto& notes = stage.score().notes;
    const double half = static_cast<double>(notes[notes.size() / 2].onset) / ticksPerQuarter;
    stage.rollTo(half - 0.1, false);
    stage.rollTo(stage.lapQuarters());
    stage.stop();
    const TakeRecord take = stage.take();
    EXPECT_EQ(take.end, TakeEnd::late);
    EXPECT_NEAR(static_cast<double>(take.performance.notes.size()), static_cast<double>(notes.size()) / 2.0,
                2.0);
    EXPECT_LE(take.performance.count(Outcome::missed), 1);
    EXPECT_EQ(take.performance.count(Outcome::wrong), 0);
    EXPECT_NEAR(take.performance.asynchronyMs->value, 0.0, 10.0);
}

TEST(SessionSound, EachLapIsATakeOfItsOwn) {
    SoundStage stage;
    stage.playPass(0);
    stage.playPass(1);
    stage.rollTo(2.0 * stage.lapQuarters());
    stage.stop();
    ASSERT_EQ(stage.takes().size(), 2U);
    for (std::size_t i = 0; i < 2; ++i) {
        EXPECT_TRUE(stage.take(i).performance.clean()) << i;
        EXPECT_NEAR(stage.take(i).performance.asynchronyMs->value, 0.0, 10.0) << i;
    }
}

TEST(SessionSound, LoopPassesWithALateRoundTripAreEachHeardToTheirEnd) {
    SoundStage stage;
    stage.way = TakeWay::loopPass;
    stage.config.roundTripMs = 120.0;
    stage.open();
    const double from = static_cast<double>(stage.score().countInTicks) / ticksPerQuarter;
    const double to = static_cast<double>(stage.score().spans.back().end) / ticksPerQuarter;
    const double passSeconds = (to - from) * 60.0 / stage.bpm;
    for (int pass = 0; pass < 3; ++pass)
        stage.play(stage.plan({}, 31), 31, pass * passSeconds + 0.12);
    stage.change = [&](SessionBlock& block) {
        block.host.looping = true;
        block.host.loopStartPpq = from;
        block.host.loopEndPpq = to;
    };
    stage.at = std::llround(from * 60.0 / stage.bpm * stage.rate);
    for (int pass = 0; pass < 3; ++pass) {
        stage.ppq = pass == 0 ? from : from + (stage.ppq - to); // the host wraps inside a block
        stage.rollTo(to);
    }
    stage.stop();
    const auto takes = stage.takes();
    ASSERT_GE(takes.size(), 3U);
    for (std::size_t i = 0; i < 3; ++i) {
        EXPECT_EQ(takes[i].right, notesOf(stage)) << i;
        EXPECT_EQ(takes[i].extra, 0) << i;
        EXPECT_NEAR(takes[i].asynchronyMs->value, 0.0, 12.0) << i;
    }
}

TEST(SessionSound, ATempoThatChangesInsideTheTakeIsFollowed) {
    SoundStage stage;
    const auto& notes = stage.score().notes;
    const double turn = static_cast<double>(notes[notes.size() / 2].onset) / ticksPerQuarter - 0.5;
    SoundPlan plan = stage.plan({}, 41);
    const double turnSeconds = turn * 60.0 / stage.bpm;
    const double slower = 90.0 / 72.0;
    const auto bend = [&](double t) {
        return t < turnSeconds ? t : turnSeconds + (t - turnSeconds) * slower;
    };
    for (TrueNote& note : plan.notes) {
        note.onset = bend(note.onset);
        note.offset = bend(note.offset);
    }
    plan.length = bend(plan.length);
    stage.play(plan, 41);
    stage.rollTo(turn);
    stage.bpm = 72.0;
    stage.rollTo(stage.lapQuarters());
    stage.stop();
    const TakeRecord take = stage.take();
    EXPECT_EQ(take.performance.count(Outcome::right), notesOf(stage));
    EXPECT_DOUBLE_EQ(take.playedBpmLow, 72.0);
    EXPECT_DOUBLE_EQ(take.playedBpmHigh, 90.0);
    for (const NoteResult& note : take.performance.notes)
        EXPECT_NEAR(note.rawDeviationMs.value(), 0.0, 30.0) << note.index;
    EXPECT_NEAR(take.performance.asynchronyMs->value, 0.0, 10.0);
}

TEST(SessionSound, ATempoThatGlidesBlockByBlockKeepsSoundAndScoreTogether) {
    SoundStage stage;
    stage.blockSamples = 4096; // where the glide inside a block counts
    SoundPlan plan = stage.plan({}, 42);
    const double perQuarter = 0.6; // bpm gained
    // seconds(q) of a tempo that rises evenly over musical time: integral of 60 / (90 + 0.6 q).
    const auto secondsAt = [&](double q) {
        return 60.0 / perQuarter * std::log(1.0 + perQuarter * q / 90.0);
    };
    const auto bend = [&](double t) { return secondsAt(t * 90.0 / 60.0); };
    for (TrueNote& note : plan.notes) {
        note.onset = bend(note.onset);
        note.offset = bend(note.offset);
    }
    plan.length = bend(plan.length);
    stage.play(plan, 42);
    const double end = stage.lapQuarters();
    while (stage.ppq < end) {
        const double seconds = static_cast<double>(stage.at) / stage.rate;
        stage.ppq = 90.0 / perQuarter * (std::exp(seconds * perQuarter / 60.0) - 1.0);
        stage.bpm = 90.0 + perQuarter * stage.ppq;
        stage.block(true, true);
    }
    stage.stop(10);
    const TakeRecord take = stage.take();
    EXPECT_EQ(take.performance.count(Outcome::right), notesOf(stage));
    EXPECT_NEAR(take.performance.asynchronyMs->value, 0.0, 10.0);
    EXPECT_NEAR(take.performance.notes.back().rawDeviationMs.value(), 0.0, 15.0);
}

TEST(SessionSound, TheRoundTripIsTakenOffAndTheTakeSaysWhereItIsFrom) {
    for (const RoundTripFrom from : {RoundTripFrom::none, RoundTripFrom::byHand, RoundTripFrom::measured}) {
        SoundStage stage;
        if (from == RoundTripFrom::byHand)
            stage.config.roundTripMs = 80.0;
        stage.open();
        stage.session->setDevice("Interface 1, 48000 Hz, 512 samples");
        if (from == RoundTripFrom::measured)
            stage.session->setMeasuredRoundTrip(80.0);
        stage.playPass(0, 80.0);
        stage.rollTo(stage.lapQuarters());
        stage.stop();
        const TakeRecord take = stage.take();
        EXPECT_EQ(take.roundTripFrom, from);
        EXPECT_EQ(take.roundTripMs.has_value(), from != RoundTripFrom::none);
        EXPECT_EQ(stage.session->view().roundTrip.from, from);
        EXPECT_NEAR(take.performance.asynchronyMs->value, from == RoundTripFrom::none ? 80.0 : 0.0, 10.0);
        EXPECT_EQ(take.performance.count(Outcome::right), notesOf(stage));
        const bool told =
            std::ranges::any_of(inWords(take.performance.remarks), [](const std::string& remark) {
                return remark.find("No round trip") != std::string::npos;
            });
        EXPECT_EQ(told, from == RoundTripFrom::none);
    }
}

TEST(SessionSound, AMeasuredRoundTripIsRememberedForItsDeviceAlone) {
    SoundStage stage;
    stage.session->setDevice("Interface 1");
    stage.session->setMeasuredRoundTrip(23.5);
    stage.session->setDevice("Interface 2");
    EXPECT_EQ(stage.session->view().roundTrip.from, RoundTripFrom::none);
    stage.open();
    stage.session->setDevice("Interface 1");
    EXPECT_EQ(stage.session->view().roundTrip.ms, 23.5);
    SessionConfig byHand = stage.config;
    byHand.roundTripMs = 12.0;
    ASSERT_TRUE(stage.session->configure(byHand).ok());
    EXPECT_EQ(stage.session->view().roundTrip.ms, 12.0) << "the player's own value leads";
    EXPECT_EQ(stage.session->view().roundTrip.from, RoundTripFrom::byHand);
}

TEST(SessionSound, WhereNotesAndSoundCameMidiLeadsAndTheRecordSaysSo) {
    SoundStage stage;
    stage.play(stage.plan({.wrong = 3}, 51), 51);
    for (const ScoreNote& note : stage.score().notes) {
        const auto sampleOf = [&](Tick tick) {
            return std::llround(static_cast<double>(tick) / ticksPerQuarter * 60.0 / stage.bpm * stage.rate);
        };
        MidiEvent on;
        on.bytes = {0x90, static_cast<std::uint8_t>(note.sounding), 100};
        MidiEvent off;
        off.bytes = {0x80, static_cast<std::uint8_t>(note.sounding), 0};
        stage.keys.emplace(sampleOf(note.onset), on);
        stage.keys.emplace(sampleOf(note.onset + note.gate) - 100, off);
    }
    stage.rollTo(stage.lapQuarters());
    stage.stop();
    const TakeRecord take = stage.take();
    EXPECT_EQ(take.performance.source, Source::both);
    EXPECT_EQ(take.performance.count(Outcome::right), notesOf(stage));
    EXPECT_EQ(take.roundTripFrom, RoundTripFrom::none);
    EXPECT_NE(inWords(take.performance.remarks.back()).find("MIDI notes were measured"), std::string::npos);
}

TEST(SessionSound, AnotherSampleRateEndsTheTakeWithAWord) {
    SoundStage stage;
    stage.playPass();
    stage.rollTo(stage.lapQuarters() / 2.0);
    stage.rate = 44100.0;
    stage.rollTo(stage.lapQuarters() / 2.0 + 1.0);
    stage.stop();
    ASSERT_GE(stage.takes().size(), 1U);
    EXPECT_EQ(stage.take().state, TakeState::cutShort);
    EXPECT_NE(stage.take().messages.back().find("sample rate"), std::string::npos);
    EXPECT_LE(stage.take().performance.count(Outcome::missed), 2);
}

TEST(SessionSound, LostSoundCountsAsSilenceAndWhatFollowsKeepsItsTime) {
    SoundStage stage;
    stage.playPass();
    const auto& notes = stage.score().notes;
    const double hole = static_cast<double>(notes[6].onset) / ticksPerQuarter;
    int lost = 0;
    stage.change = [&](SessionBlock& block) {
        if (block.host.playing && *block.host.ppq >= hole && lost < 30) {
            block.sound = block.sound.first(lost % 2 == 0 ? 0 : 100);
            ++lost;
        }
    };
    stage.rollTo(stage.lapQuarters());
    stage.stop();
    const TakeRecord take = stage.take();
    ASSERT_EQ(static_cast<int>(take.performance.notes.size()), notesOf(stage));
    for (std::size_t i = 9; i < take.performance.notes.size(); ++i) {
        EXPECT_EQ(take.performance.notes[i].outcome, Outcome::right) << i;
        EXPECT_NEAR(take.performance.notes[i].rawDeviationMs.value_or(1e3), 0.0, 30.0) << i;
    }
    EXPECT_NE(take.messages.back().find("of sound are missing"), std::string::npos);
}

TEST(SessionSound, ATakeOfSilenceIsDropped) {
    SoundStage stage;
    stage.rollTo(stage.lapQuarters());
    stage.stop();
    EXPECT_TRUE(stage.takes().empty());
    EXPECT_TRUE(stage.said("dropped"));
}

/// How long after a note's audible onset the view shows it, ms; notes never shown are left out.
std::vector<double> viewDelays(SoundStage& stage, const testing::SoundTake& truth, int& shown) {
    std::map<int, double> firstShown;
    stage.afterBlock = [&] {
        if (const auto live = stage.session->view().live; live && live->index >= 0)
            firstShown.try_emplace(live->index, static_cast<double>(stage.at) / stage.rate);
    };
    stage.rollTo(stage.lapQuarters());
    stage.stop();
    std::vector<double> delays;
    for (const TrueNote& note : truth.truth.notes)
        if (const auto found = firstShown.find(note.index); found != firstShown.end())
            delays.push_back(1000.0 * (found->second - note.onset));
    shown = static_cast<int>(delays.size());
    return delays;
}

TEST(SessionSound, TheViewFollowsThePlayer) {
    struct Case {
        const char* name;
        const char* instrument;
        testing::BrassVoice voice;
        double mostMs;
    };
    // The tuba's drill begins at E1, 41 Hz: two periods alone take 49 ms.
    for (const Case& each : {Case{"trumpet", "trumpet-b-flat", testing::trumpetVoice(), 100.0},
                             Case{"tuba", "tuba-b-flat-4", testing::tubaVoice(), 150.0}}) {
        SessionConfig config = SoundStage::quick();
        const Instrument* instrument = findInstrument(each.instrument);
        ASSERT_NE(instrument, nullptr) << each.instrument;
        config.instrument = *instrument;
        config.drill = defaultDrill(config.instrument);
        LadderPattern ladder = std::get<LadderPattern>(config.drill.pattern);
        ladder.lastTop = ladder.firstTop;
        config.drill.pattern = ladder;
        config.drill.segments.resize(2);
        SoundStage stage(config);
        stage.voice = each.voice;
        stage.blockSamples = 128;
        const auto take = testing::renderBrass(stage.plan({}, 61), each.voice, 61, stage.rate);
        stage.sound = take.samples;
        int shown = 0;
        const auto delays = viewDelays(stage, take, shown);
        std::cout << each.name << ": " << shown << " of " << notesOf(stage) << " notes shown, median "
                  << quantile(delays, 0.5) << " ms, 90 % " << quantile(delays, 0.9) << " ms, most "
                  << quantile(delays, 1.0) << " ms after the onset (worker and screen not counted)\n";
        EXPECT_GE(shown, notesOf(stage) * 9 / 10) << each.name;
        EXPECT_LE(quantile(delays, 0.5), each.mostMs) << each.name;
    }
}

} // namespace
} // namespace valveladder
