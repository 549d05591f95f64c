// What we write, read by an independent reader: the npm package @tonejs/midi 2.0.28 (MIT), which shares no
// code with ours. Expected onsets and lengths come from the Score, not from our writer.

#include "Base/Uuid.h"
#include "Files/BackingFile.h"
#include "Files/GuideFile.h"
#include "Outside/NodeScript.h"
#include "Outside/OutsideScores.h"
#include "Valves/Instrument.h"

#include <gtest/gtest.h>

#include <array>
#include <filesystem>
#include <map>
#include <set>

namespace valveladder {

namespace {

using nlohmann::json;

Score built(const Drill& drill, double bpm) {
    Result<Score> score = buildScore(drill, *findInstrument("trumpet-b-flat"), bpm);
    EXPECT_TRUE(score) << score.problem().text();
    return score.value();
}

Drill defaultLadder() {
    return defaultDrill(*findInstrument("trumpet-b-flat"));
}

json heard(const SmfFile& file) {
    const std::filesystem::path path =
        std::filesystem::path(testing::TempDir()) / ("outside-reader-" + newUuid() + ".mid");
    const Result<Done> written = writeSmfFile(path, file);
    EXPECT_TRUE(written) << written.problem().text();
    json read = runNodeScript("read-smf.js", path);
    std::filesystem::remove(path);
    return read;
}

std::int64_t fileTick(Tick tick, int perQuarter) {
    EXPECT_EQ(tick * perQuarter % ticksPerQuarter, 0) << "a tick that the file cannot hold exactly";
    return tick * perQuarter / ticksPerQuarter;
}

void appendExpectedNotes(json& notes, const Score& score, std::int64_t start, int perQuarter) {
    for (const ScoreNote& note : score.notes)
        notes.push_back({{"pitch", note.sounding},
                         {"tick", start + fileTick(note.onset, perQuarter)},
                         {"length", fileTick(note.gate, perQuarter)},
                         {"velocity", note.velocity}});
}

const json& track(const json& read, const std::string& name) {
    for (const json& candidate : read.at("tracks"))
        if (candidate.at("name") == name)
            return candidate;
    throw std::runtime_error("the reader found no track named " + name);
}

void expectGuideRead(const Drill& drill, double bpm, int perQuarter) {
    const Score score = built(drill, bpm);
    const SmfFile file = guideFile(score, bpm, {}, "Ladder");
    EXPECT_EQ(file.ticksPerQuarterNote, perQuarter);
    const json read = heard(file);
    EXPECT_EQ(read.at("ticksPerQuarter"), perQuarter);
    json expected = json::array();
    appendExpectedNotes(expected, score, 0, perQuarter);
    EXPECT_EQ(track(read, "Guide").at("notes"), expected);
    EXPECT_EQ(track(read, "Guide").at("channel"), 1);
    ASSERT_EQ(read.at("tempos").size(), 1U);
    EXPECT_NEAR(read.at("tempos")[0].at("bpm").get<double>(), bpm, bpm * bpm / 60e6);
    EXPECT_EQ(read.at("meters")[0].at("beats"), drill.meter.beats);
    EXPECT_EQ(read.at("meters")[0].at("unit"), drill.meter.unit);
}

class SmfOutsideReader : public testing::Test {
protected:
    void SetUp() override {
        if (const std::optional<std::string> why = outsideReadersMissing())
            GTEST_SKIP() << *why;
    }
};

} // namespace

TEST_F(SmfOutsideReader, HearsEveryOnsetAndLengthOfTheDefaultLadder) {
    Drill drill = defaultLadder();
    const Score score = built(drill, 66.0);
    const Score* scores[] = {&score};
    expectGuideRead(drill, 66.0, smfTicksPerQuarter(scores));
}

TEST_F(SmfOutsideReader, HearsRhythmsThatNeedTheFineDivisionExactly) {
    Drill drill = defaultLadder();
    drill.segments = {{"Five and two", Rhythm{{5, 2}}, Touch::firm, {}, false}};
    drill.noteTicks = ticksPerQuarter / 5;
    expectGuideRead(drill, 91.5, ticksPerQuarter);
}

TEST_F(SmfOutsideReader, HearsSixEightWithoutCountIn) {
    Drill drill = defaultLadder();
    drill.meter = {6, 8};
    drill.countInBars = 0;
    const Score score = built(drill, 54.0);
    const Score* scores[] = {&score};
    expectGuideRead(drill, 54.0, smfTicksPerQuarter(scores));
}

TEST_F(SmfOutsideReader, HearsAClickOnEveryBeat) {
    const Drill drill = defaultLadder();
    const Score score = built(drill, 66.0);
    const SmfFile file = guideFile(score, 66.0, {}, "Ladder");
    const json read = heard(file);
    const json clicks = track(read, "Click").at("notes");
    const Tick beat = drill.meter.beatTicks();
    ASSERT_EQ(static_cast<Tick>(clicks.size()), score.length / beat);
    for (std::size_t i = 0; i < clicks.size(); ++i) {
        EXPECT_EQ(clicks[i].at("tick"), fileTick(static_cast<Tick>(i) * beat, file.ticksPerQuarterNote));
        EXPECT_EQ(clicks[i].at("pitch"), i % 4 == 0 ? 76 : 77);
    }
    EXPECT_EQ(track(read, "Click").at("channel"), 10);
}

TEST_F(SmfOutsideReader, HearsTheValvesOfEveryNote) {
    const Score score = built(defaultLadder(), 66.0);
    const SmfFile file = guideFile(score, 66.0, {}, "Ladder");
    json moves = track(heard(file), "Valves").at("controllers");
    std::stable_sort(moves.begin(), moves.end(),
                     [](const json& a, const json& b) { return a["tick"] < b["tick"]; });
    std::size_t next = 0;
    int held = 0;
    for (const ScoreNote& note : score.notes) {
        const std::int64_t onset = fileTick(note.onset, file.ticksPerQuarterNote);
        for (; next < moves.size() && moves[next]["tick"] <= onset; ++next) {
            const int bit = 1 << (moves[next]["number"].get<int>() - 20);
            held = moves[next]["value"] == 127 ? held | bit : held & ~bit;
        }
        EXPECT_EQ(held, note.combination.bits()) << "at tick " << onset;
    }
    EXPECT_GT(moves.size(), 0U);
}

TEST_F(SmfOutsideReader, HearsASessionOfSteppedTakesEndToEnd) {
    const Drill drill = defaultLadder();
    const std::vector<double> tempos{60.0, 62.0, 64.5};
    std::vector<Score> scores;
    for (const double bpm : tempos)
        scores.push_back(built(drill, bpm));
    std::vector<SessionTake> takes;
    for (std::size_t i = 0; i < tempos.size(); ++i)
        takes.push_back({&scores[i], tempos[i]});
    const SmfFile file = sessionFile(takes, {}, "Session", false);
    const json read = heard(file);

    json expected = json::array();
    std::int64_t start = 0;
    ASSERT_EQ(read.at("tempos").size(), tempos.size());
    for (std::size_t i = 0; i < tempos.size(); ++i) {
        EXPECT_EQ(read["tempos"][i]["tick"], start);
        EXPECT_NEAR(read["tempos"][i]["bpm"].get<double>(), tempos[i], tempos[i] * tempos[i] / 60e6);
        appendExpectedNotes(expected, scores[i], start, file.ticksPerQuarterNote);
        start += fileTick(scores[i].length, file.ticksPerQuarterNote);
    }
    EXPECT_EQ(track(read, "Guide").at("notes"), expected);
}

TEST_F(SmfOutsideReader, HearsTheTempoMapAloneWithItsMarkers) {
    const Score score = built(defaultLadder(), 60.0);
    const std::vector<SessionTake> takes{{&score, 60.0}, {&score, 61.0}};
    const SmfFile file = sessionFile(takes, {}, "Tempo map", true);
    const json read = heard(file);
    EXPECT_EQ(read["tempos"].size(), 2U);
    for (const json& any : read["tracks"])
        EXPECT_TRUE(any["notes"].empty());
    const std::size_t spansAndCountIn = score.spans.size() + 1;
    ASSERT_EQ(read["markers"].size(), 2 * (spansAndCountIn + 1));
    EXPECT_EQ(read["markers"][0]["text"], "Take 1: 60 bpm");
    EXPECT_EQ(read["markers"][1]["text"], "Count-in");
    EXPECT_EQ(read["markers"][2]["text"], "Rung 1 F#3-C4, segment 1: " + score.segmentNames[0]);
    EXPECT_EQ(read["markers"][2]["tick"], fileTick(score.countInTicks, file.ticksPerQuarterNote));
}

TEST_F(SmfOutsideReader, HearsTheBackingOnItsOwnTracksAndChannels) {
    const Score score = built(defaultLadder(), 60.0);
    BackingSettings settings;
    settings.pad = settings.bass = settings.drums = true;
    const std::vector<SessionTake> takes{{&score, 60.0}};
    const SmfFile file = backingFile(takes, settings, "Loop");
    const json read = heard(file);
    std::map<std::string, std::multiset<std::pair<std::int64_t, int>>> expected;
    static constexpr std::array titles{"Click", "Drone", "Pad", "Bass", "Drums"};
    for (const BackingEvent& event : backingEvents(score, settings))
        if (event.begins)
            expected[titles.at(static_cast<std::size_t>(event.part))].insert(
                {fileTick(event.tick, file.ticksPerQuarterNote), event.bytes[1]});
    static constexpr std::array channels{10, 2, 3, 4, 10};
    for (std::size_t i = 0; i < titles.size(); ++i) {
        const json& one = track(read, titles[i]);
        EXPECT_EQ(one.at("channel"), channels.at(i));
        std::multiset<std::pair<std::int64_t, int>> notes;
        for (const json& note : one.at("notes"))
            notes.insert({note["tick"].get<std::int64_t>(), note["pitch"].get<int>()});
        EXPECT_EQ(notes, expected[titles[i]]) << titles[i];
    }
}

// A host repeats a loop by its length. A thousand passes laid end to end must lie where a thousand times the
// length says, to the tick, and the reader must hear each as the first.
TEST_F(SmfOutsideReader, LoopsRepeatAThousandTimesWithoutGapOrDrift) {
    constexpr int passes = 1000;
    Drill drill = defaultLadder();
    drill.pattern = CellPattern{{{60, 62}}};
    drill.segments.resize(2);
    const Score score = built(drill, 66.0);
    const std::vector<SessionTake> takes{{&score, 66.0}};
    BackingSettings settings;
    settings.bass = settings.drums = true;
    settings.countIn = false;
    const SmfFile lap = backingFile(takes, settings, "Loop");
    const std::int64_t length = lap.tracks.front().length;
    for (const SmfTrack& any : lap.tracks)
        EXPECT_EQ(any.length, length);
    EXPECT_EQ(length * ticksPerQuarter % (lap.ticksPerQuarterNote * score.meter.barTicks()), 0);
    const std::vector<SmfEvent> once = lap.tracks.back().events;
    SmfFile all = lap;
    for (SmfTrack& any : all.tracks)
        any.length = passes * length;
    for (int pass = 1; pass < passes; ++pass)
        for (const SmfEvent& event : once)
            if (event.bytes[0] < 0xF0)
                all.tracks.back().events.push_back({pass * length + event.tick, event.bytes});
    const json notes = track(heard(all), "Drums").at("notes");
    const json first = track(heard(lap), "Drums").at("notes");
    ASSERT_EQ(notes.size(), passes * first.size());
    for (std::size_t i = 0; i < notes.size(); ++i) {
        const json& like = first[i % first.size()];
        ASSERT_EQ(notes[i]["tick"].get<std::int64_t>(),
                  static_cast<std::int64_t>(i / first.size()) * length + like["tick"].get<std::int64_t>());
        ASSERT_EQ(notes[i]["pitch"], like["pitch"]);
        ASSERT_EQ(notes[i]["length"], like["length"]);
    }
}

// MuseScore 3 (Debian) reads the file as notation, then writes what it read as MIDI again.
TEST(MuseScoreMidi, ReadsGuideAndSteppedSessionToTheTick) {
    if (!hasMuseScore() || outsideReadersMissing())
        GTEST_SKIP() << "mscore3 or the independent readers are not installed";
    const Score slow = built(defaultLadder(), 60.0);
    const Score quick = built(defaultLadder(), 64.0);
    const std::vector<SessionTake> takes{{&slow, 60.0}, {&quick, 64.0}};
    GuideSettings settings;
    settings.click = ClickWhen::off;
    settings.valveLanes = false;
    for (const SmfFile& file :
         {guideFile(slow, 60.0, settings, "Ladder"), sessionFile(takes, settings, "Session", false)}) {
        const std::filesystem::path folder =
            std::filesystem::path(testing::TempDir()) / ("musescore-" + newUuid());
        std::filesystem::create_directories(folder);
        ASSERT_TRUE(writeSmfFile(folder / "ours.mid", file));
        ASSERT_TRUE(museScoreWrites(folder / "ours.mid", folder / "theirs.mid"));
        const json ours = runNodeScript("read-smf.js", folder / "ours.mid");
        const json theirs = runNodeScript("read-smf.js", folder / "theirs.mid");
        std::filesystem::remove_all(folder);
        const auto onsets = [](const json& read) {
            std::vector<std::pair<double, int>> notes; // quarters, pitch
            for (const json& one : read.at("tracks"))
                for (const json& note : one.at("notes"))
                    notes.push_back({note["tick"].get<double>() / read["ticksPerQuarter"].get<double>(),
                                     note["pitch"].get<int>()});
            return notes;
        };
        EXPECT_EQ(onsets(theirs), onsets(ours));
        ASSERT_EQ(theirs["tempos"].size(), ours["tempos"].size());
        for (std::size_t i = 0; i < ours["tempos"].size(); ++i)
            EXPECT_NEAR(theirs["tempos"][i]["bpm"].get<double>(), ours["tempos"][i]["bpm"].get<double>(),
                        1e-3);
    }
}

} // namespace valveladder
