#include "Session/Session.h"

#include "Guide/GuideEvents.h"

#include <gtest/gtest.h>

#include <unistd.h>

#include <algorithm>
#include <cmath>
#include <filesystem>
#include <fstream>
#include <map>

namespace valveladder {
namespace {

constexpr int blockSamples = 512;
constexpr double rate = 48000.0;
constexpr UtcMs noon = 1'780'000'000'000; // some day in 2026

/// A host that rolls from ppq 0 with a player at a keyboard, block by block, and a clock that follows the
/// samples.
class Room {
public:
    explicit Room(SessionConfig wanted = quick()) : config(std::move(wanted)) {
        folder = std::filesystem::temp_directory_path() /
                 ("valve-ladder-session-" + std::to_string(::getpid()) + "-" + std::to_string(++count));
        std::filesystem::create_directories(folder);
        open();
    }
    ~Room() {
        session.reset();
        std::filesystem::remove_all(folder);
    }

    void open() {
        session = std::make_unique<Session>(folder / "log.sqlite", config, [this] { return clock; });
    }

    /// One rung, two segments: a lap of a few bars.
    static SessionConfig quick() {
        SessionConfig config;
        LadderPattern ladder;
        ladder.lastTop = ladder.firstTop;
        config.drill.pattern = ladder;
        config.drill.segments.resize(2);
        config.rules.startBpm = 90.0;
        config.rules.stepPerTake = 2.0;
        config.rules.timeZone = "Etc/UTC";
        return config;
    }

    [[nodiscard]] const Score& score() const { return session->setup()->score(); }

    /// Keys of a faultless pass of the drill, by sample from ppq 0, `late` ms after the score.
    void playPass(int lap = 0, double lateMs = 0.0) {
        const double lapQuarters = static_cast<double>(score().length) / ticksPerQuarter;
        for (const ScoreNote& note : score().notes) {
            const double on = lap * lapQuarters + static_cast<double>(note.onset) / ticksPerQuarter;
            const double off = on + 0.9 * note.gate / ticksPerQuarter;
            key(on, lateMs, 0x90, note.sounding);
            key(off, lateMs, 0x80, note.sounding);
        }
    }

    /// What our own guide sends in a lap, come back `lateMs` later: of these kinds.
    void guideComesBack(std::initializer_list<GuideCue::Kind> kinds, double lateMs) {
        for (const GuideCue& cue : session->setup()->track->cues())
            if (std::ranges::find(kinds, cue.kind) != kinds.end()) {
                const auto bytes = message(cue, GuideSettings{});
                key(static_cast<double>(cue.tick) / ticksPerQuarter, lateMs, bytes[0], bytes[1], bytes[2]);
            }
    }

    void key(double quarter, double lateMs, int status, int note, int velocity = 100) {
        const auto sample = std::llround(quarter * 60.0 / bpm * rate + lateMs / 1000.0 * rate);
        MidiEvent event;
        event.bytes = {static_cast<std::uint8_t>(status), static_cast<std::uint8_t>(note),
                       static_cast<std::uint8_t>(velocity)};
        keys.emplace(sample, event);
    }

    /// A pedal's controller, 64, at that value.
    void pedal(double quarter, int value) {
        MidiEvent event;
        event.bytes = {0xB0, 64, static_cast<std::uint8_t>(value)};
        keys.emplace(std::llround(quarter * 60.0 / bpm * rate), event);
    }

    /// Rolls on to `quarter`, recording or not.
    void rollTo(double quarter, bool recording = true, float sound = 0.0F) {
        const auto end = std::llround(quarter * 60.0 / bpm * rate);
        while (at < end)
            block(true, recording, sound);
    }

    void stop(int blocks = 60) {
        for (int i = 0; i < blocks; ++i)
            block(false, false, 0.0F);
    }

    /// Back to ppq 0, as a player who records again.
    void rewind() {
        at = 0;
        keys.clear();
    }

    [[nodiscard]] std::vector<TakeSummary> takes() {
        const auto found = session->log()->takes({});
        EXPECT_TRUE(found.ok());
        return found.value();
    }

    [[nodiscard]] bool said(const std::string& words) const {
        for (const SessionMessage& message : session->view().messages)
            if (message.text.find(words) != std::string::npos)
                return true;
        return false;
    }

    SessionConfig config;
    std::filesystem::path folder;
    std::unique_ptr<Session> session;
    double bpm = 90.0;
    TakeWay way = TakeWay::recordingPass;
    UtcMs clock = noon;

private:
    void block(bool playing, bool recording, float sound) {
        SessionBlock next;
        next.startSample = samples;
        next.clock = Clock::host;
        next.trackId = session->setup()->track->id();
        next.way = way;
        next.host.sampleRate = rate;
        next.host.samples = blockSamples;
        next.host.playing = playing;
        next.host.recording = recording;
        next.host.ppq = static_cast<double>(at) / rate * bpm / 60.0;
        next.host.bpm = bpm;
        std::vector<MidiEvent> midi;
        if (playing)
            for (auto key = keys.lower_bound(at); key != keys.end() && key->first < at + blockSamples;
                 ++key) {
                midi.push_back(key->second);
                midi.back().sample = static_cast<int>(key->first - at);
            }
        const std::vector<float> mono(blockSamples, sound);
        next.midi = midi;
        next.sound = mono;
        session->block(next);
        session->idle();
        samples += blockSamples;
        clock = noon + samples * 1000 / 48000;
        if (playing)
            at += blockSamples;
    }

    std::multimap<std::int64_t, MidiEvent> keys;
    std::int64_t samples = 0;
    std::int64_t at = 0;
    static inline int count = 0;
};

double lapQuarters(const Room& room) {
    return static_cast<double>(room.score().length) / ticksPerQuarter;
}

// Rules set before the first take stood in the session alone, and others read another plan from its log.
TEST(SessionPlan, WhoeverReadsTheLogComesToTheSessionsOwnPlan) {
    Room room;
    room.playPass();
    room.rollTo(lapQuarters(room));
    room.stop();
    const auto rules =
        room.session->log()->rules(room.config.player, room.config.instrument.id, room.config.drill.name);
    ASSERT_TRUE(rules.ok()) << rules.problem().text();
    ASSERT_TRUE(rules.value().has_value());
    EXPECT_EQ(*rules.value(), room.config.rules);
    auto takes = room.session->log()->planTakes({});
    ASSERT_TRUE(takes.ok());
    const double read = nextTempo(*rules.value(), takes.value(), room.clock).bpm;
    EXPECT_EQ(read, room.session->setup()->planned.bpm);
    EXPECT_EQ(read, 92.0);
}

TEST(Session, ACleanTakeIsLoggedAndTheNextTempoIsStepped) {
    Room room;
    room.playPass();
    room.rollTo(lapQuarters(room));
    room.stop();
    const auto takes = room.takes();
    ASSERT_EQ(takes.size(), 1U);
    EXPECT_EQ(takes[0].state, TakeState::whole);
    EXPECT_TRUE(takes[0].passed);
    EXPECT_TRUE(takes[0].clean);
    EXPECT_EQ(takes[0].right, static_cast<int>(room.score().notes.size()));
    EXPECT_DOUBLE_EQ(takes[0].playedBpm, 90.0);
    EXPECT_DOUBLE_EQ(takes[0].header.plannedBpm, 90.0);
    EXPECT_DOUBLE_EQ(room.session->setup()->planned.bpm, 92.0);
    EXPECT_TRUE(room.session->view().playedToday);
}

/// Right and extra notes of the one take that was kept.
std::pair<int, std::size_t> rightAndExtra(Room& room) {
    const auto takes = room.takes();
    EXPECT_EQ(takes.size(), 1U);
    if (takes.empty())
        return {0, 0};
    const auto take = room.session->log()->take(takes.front().header.id);
    EXPECT_TRUE(take.ok());
    return {takes.front().right, take.value().performance.extras.size()};
}

TEST(SessionCorrections, ATakeThatPassesByThePlayersWordStepsThePlanUntilItIsTakenBack) {
    Room room;
    room.playPass();
    const ScoreNote& last = room.score().notes.back(); // and a key beside it that nobody meant
    room.key(static_cast<double>(last.onset) / ticksPerQuarter + 0.1, 0.0, 0x90, last.sounding - 5);
    room.key(static_cast<double>(last.onset) / ticksPerQuarter + 0.15, 0.0, 0x80, last.sounding - 5);
    room.rollTo(static_cast<double>(room.score().length) / ticksPerQuarter + 1.0);
    room.stop();
    const auto takes = room.takes();
    ASSERT_EQ(takes.size(), 1U);
    ASSERT_FALSE(takes[0].passed);
    ASSERT_DOUBLE_EQ(room.session->setup()->planned.bpm, 90.0);
    int reviewsAsked = 0;
    room.session->onLogChanged([&](const ReviewRequest&) { ++reviewsAsked; });

    const auto reports = reportsOf(room.session->log()->take(takes[0].header.id).value().performance);
    ASSERT_FALSE(reports.empty());
    room.session->correct(takes[0].header.id, reports, true);
    EXPECT_TRUE(room.takes()[0].passed);
    EXPECT_DOUBLE_EQ(room.session->setup()->planned.bpm, 92.0);
    EXPECT_EQ(reviewsAsked, 1);
    room.session->correct(takes[0].header.id, reports, false);
    EXPECT_DOUBLE_EQ(room.session->setup()->planned.bpm, 90.0);

    room.session->correct(takes[0].header.id, {{0, ReportKind::cracked}}, true);
    EXPECT_TRUE(room.said("nothing of the kind"));
    EXPECT_EQ(reviewsAsked, 2) << "what was refused changed nothing";
}

TEST(SessionGuideBack, TheClickIsNotThePlayers) {
    Room room;
    room.playPass(0, 12.0);
    room.guideComesBack({GuideCue::Kind::clickOn, GuideCue::Kind::clickOff}, 3.0);
    room.rollTo(lapQuarters(room));
    room.stop();
    const auto [right, extra] = rightAndExtra(room);
    EXPECT_EQ(right, static_cast<int>(room.score().notes.size()));
    EXPECT_EQ(extra, 0U);
}

TEST(SessionGuideBack, ItsNotesOnThePlayersOwnChannelAreNotCountedAndItIsSaid) {
    Room room;
    room.guideComesBack({GuideCue::Kind::noteOn, GuideCue::Kind::noteOff, GuideCue::Kind::valve}, 3.0);
    // A semitone above the guide throughout: only the player's own may count.
    for (const ScoreNote& note : room.score().notes) {
        const double on = static_cast<double>(note.onset) / ticksPerQuarter;
        room.key(on, 15.0, 0x90, note.sounding + 1);
        room.key(on + 0.5 * note.gate / ticksPerQuarter, 15.0, 0x80, note.sounding + 1);
    }
    room.rollTo(lapQuarters(room));
    room.stop();
    EXPECT_EQ(rightAndExtra(room).first, 0);
    EXPECT_TRUE(room.said("Our own guide came back"));
}

TEST(SessionGuideBack, AloneItIsNoTake) {
    Room room;
    room.guideComesBack({GuideCue::Kind::noteOn, GuideCue::Kind::noteOff, GuideCue::Kind::clickOn,
                         GuideCue::Kind::clickOff, GuideCue::Kind::valve},
                        3.0);
    room.rollTo(lapQuarters(room));
    room.stop();
    EXPECT_TRUE(room.takes().empty());
    EXPECT_TRUE(room.said("nothing was played"));
}

TEST(Session, OnsetsAreMeasuredAgainstTheHostsTimeWithinOneMillisecond) {
    Room room;
    room.playPass(0, 20.0);
    room.rollTo(lapQuarters(room));
    room.stop();
    const auto take = room.session->log()->take(room.takes().front().header.id);
    ASSERT_TRUE(take.ok());
    for (const NoteResult& note : take.value().performance.notes)
        EXPECT_NEAR(note.rawDeviationMs.value(), 20.0, 1.0) << note.index;
    EXPECT_NEAR(take.value().performance.asynchronyMs->value, 20.0, 1.0);
}

TEST(Session, PlayingInTheCountInIsNotPartOfTheTake) {
    Room room;
    room.key(0.5, 0.0, 0x90, 40);
    room.key(1.0, 0.0, 0x80, 40);
    room.playPass();
    room.rollTo(lapQuarters(room));
    room.stop();
    ASSERT_EQ(room.takes().size(), 1U);
    EXPECT_EQ(room.takes()[0].extra, 0);
    EXPECT_TRUE(room.takes()[0].clean);
}

TEST(Session, ATakeInWhichNothingWasPlayedIsDroppedWithAWord) {
    Room room;
    room.rollTo(lapQuarters(room));
    room.stop();
    EXPECT_TRUE(room.takes().empty());
    EXPECT_TRUE(room.said("dropped"));
}

TEST(Session, ATakeIsKeptWhenOnlySoundCame) {
    Room room;
    room.rollTo(lapQuarters(room), true, 0.3F);
    room.stop();
    const auto takes = room.takes();
    ASSERT_EQ(takes.size(), 1U);
    EXPECT_EQ(takes[0].source, Source::sound);
    EXPECT_FALSE(takes[0].passed);
}

TEST(Session, AStopInTheMiddleLeavesAPartialTakeThatNeitherPassesNorFails) {
    Room room;
    room.playPass();
    room.rollTo(lapQuarters(room) / 2.0);
    room.stop();
    const auto takes = room.takes();
    ASSERT_EQ(takes.size(), 1U);
    EXPECT_EQ(takes[0].state, TakeState::cutShort);
    EXPECT_EQ(takes[0].end, TakeEnd::stopped);
    EXPECT_DOUBLE_EQ(room.session->setup()->planned.bpm, 90.0);
}

TEST(Session, ClosingTheSessionInMidTakeKeepsIt) {
    Room room;
    room.playPass();
    room.rollTo(lapQuarters(room) / 2.0);
    room.open(); // the session before is destroyed
    ASSERT_EQ(room.takes().size(), 1U);
    EXPECT_EQ(room.takes()[0].state, TakeState::cutShort);
}

TEST(Session, WhatBecameOfEarlierTakesIsSaid) {
    Room room;
    room.session.reset();
    std::filesystem::remove_all(room.folder);
    std::filesystem::create_directories(room.folder / "log.sqlite"); // a folder: no log can be made there
    room.open();
    room.playPass();
    room.rollTo(lapQuarters(room));
    room.stop();
    room.session.reset();
    std::filesystem::remove(room.folder / "log.sqlite");
    room.open();
    EXPECT_TRUE(room.said("1 take of before had been waiting"));
    EXPECT_EQ(room.takes().size(), 1U);
    room.session.reset();
    room.open();
    EXPECT_FALSE(room.said("had been waiting")) << "it is told once";
}

TEST(Session, NotRecordingMakesNoTakeInTheRecordingWay) {
    Room room;
    room.playPass();
    room.rollTo(lapQuarters(room), false);
    room.stop();
    EXPECT_TRUE(room.takes().empty());
}

TEST(Session, PlayingWayTakesWhatIsPlayedWithoutRecording) {
    Room room;
    room.way = TakeWay::playing;
    room.playPass();
    room.rollTo(lapQuarters(room), false);
    room.stop();
    ASSERT_EQ(room.takes().size(), 1U);
    EXPECT_TRUE(room.takes()[0].clean);
    EXPECT_EQ(room.takes()[0].header.way, TakeWay::playing);
}

TEST(PedalEdges, ContinuousMarkPedalBeginsATakeOnceAndEndsItOnce) {
    SessionConfig config = Room::quick();
    config.pedals.mark = {-1, 64};
    Room room(config);
    room.way = TakeWay::marker;
    room.playPass();
    const double first = static_cast<double>(room.score().notes.front().onset) / ticksPerQuarter;
    const auto sweep = [&](double quarter) {
        for (int value = 0; value < 128; value += 8) {
            room.pedal(quarter + value / 512.0, value);
            room.pedal(quarter + 0.5 + value / 512.0, 127 - value);
        }
    };
    sweep(first - 2.0);
    sweep(first + 3.0);
    room.rollTo(lapQuarters(room));
    room.stop();
    const auto takes = room.takes();
    ASSERT_EQ(takes.size(), 1U);
    EXPECT_EQ(takes[0].state, TakeState::cutShort);
    EXPECT_GT(takes[0].right, 0);
}

TEST(Session, EachLapOfOneRecordingIsATake) {
    Room room;
    room.playPass(0);
    room.playPass(1);
    const double two = 2.0 * lapQuarters(room);
    room.rollTo(two);
    room.stop();
    const auto takes = room.takes();
    ASSERT_EQ(takes.size(), 2U);
    EXPECT_TRUE(takes[0].clean);
    EXPECT_TRUE(takes[1].clean);
}

TEST(Session, AHostAtAnotherTempoIsSaidAndLogged) {
    Room room;
    room.bpm = 80.0;
    room.playPass();
    room.rollTo(lapQuarters(room));
    EXPECT_EQ(room.session->view().mismatch, "The host is at 80, this take is planned at 90");
    room.stop();
    const auto takes = room.takes();
    ASSERT_EQ(takes.size(), 1U);
    EXPECT_DOUBLE_EQ(takes[0].playedBpm, 80.0);
    ASSERT_FALSE(takes[0].messages.empty());
    EXPECT_NE(takes[0].messages[0].find("planned at 90"), std::string::npos);
    EXPECT_DOUBLE_EQ(room.session->setup()->planned.bpm, 90.0) << "a take below the plan does not step it";
}

TEST(Session, AnotherDrillInMidTakeEndsItAsPartial) {
    Room room;
    room.playPass();
    room.rollTo(lapQuarters(room) / 2.0);
    SessionConfig other = room.config;
    other.drill.name = "Another";
    ASSERT_TRUE(room.session->configure(other).ok());
    room.stop();
    ASSERT_EQ(room.takes().size(), 1U);
    EXPECT_EQ(room.takes()[0].state, TakeState::cutShort);
    EXPECT_EQ(room.takes()[0].header.drillName, room.config.drill.name);
}

TEST(Session, AnotherInstrumentBringsItsOwnPitchesAndFingeringsAndLeavesAllElse) {
    SessionConfig config = Room::quick();
    config.player = "Ann";
    config.drill.repeats = 3;
    const Instrument* other = findInstrument("flugelhorn-b-flat-4");
    ASSERT_NE(other, nullptr);
    const SessionConfig changed = playedOn(*other, config);
    EXPECT_TRUE(checked(changed).ok());
    config.instrument = *other;
    config.drill.pattern = defaultDrill(*other).pattern;
    config.drill.fingering = defaultDrill(*other).fingering;
    EXPECT_TRUE(changed == config);
}

TEST(Session, ARefusedConfigLeavesAllAsItWas) {
    Room room;
    SessionConfig bad = room.config;
    bad.drill.noteTicks = 0;
    EXPECT_FALSE(room.session->configure(bad).ok());
    EXPECT_EQ(room.session->setup()->config, room.config);
}

TEST(Session, TwoFailuresInARowStepBack) {
    Room room;
    room.config.rules.startBpm = 90.0;
    for (int pass = 0; pass < 3; ++pass) {
        room.rewind();
        room.bpm = room.session->setup()->planned.bpm;
        if (pass == 0)
            room.playPass();
        else
            room.key(5.0, 0.0, 0x90, 40); // nothing but a wrong note
        room.rollTo(lapQuarters(room));
        room.stop();
    }
    EXPECT_EQ(room.takes().size(), 3U);
    EXPECT_DOUBLE_EQ(room.session->setup()->planned.bpm, 90.0);
    EXPECT_EQ(room.session->setup()->planned.reason, PlanReason::steppedBack);
}

TEST(Session, RulesKeptInTheLogLeadAtTheNextStart) {
    Room room;
    SessionConfig changed = room.config;
    changed.rules.startBpm = 70.0;
    ASSERT_TRUE(room.session->configure(changed).ok());
    room.open();
    EXPECT_DOUBLE_EQ(room.session->setup()->planned.bpm, 70.0);
}

TEST(Session, ALogThatCannotBeOpenedIsSaidAndNothingIsLost) {
    Room room;
    room.session.reset();
    const auto blocker = room.folder / "file";
    std::ofstream(blocker) << "not a folder";
    room.session =
        std::make_unique<Session>(blocker / "log.sqlite", room.config, [&room] { return room.clock; });
    room.playPass();
    room.rollTo(lapQuarters(room));
    room.stop();
    const SessionView view = room.session->view();
    ASSERT_TRUE(view.logTrouble.has_value());
    EXPECT_FALSE(view.logTrouble->remedy.empty());
    EXPECT_EQ(view.waitingTakes, 1U);
    EXPECT_DOUBLE_EQ(room.session->setup()->planned.bpm, 92.0) << "waiting takes count for the plan";
    std::filesystem::remove(blocker);
    room.stop(400);
    EXPECT_EQ(room.session->view().waitingTakes, 0U);
    EXPECT_EQ(room.takes().size(), 1U);
}

} // namespace
} // namespace valveladder
