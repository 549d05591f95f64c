// What we write, read by an independent reader: the npm package @tonejs/midi 2.0.28 (MIT), which shares no
// code with ours. Expected onsets and lengths come from the Score, not from our writer.

#include "Files/GuideFile.h"
#include "Outside/NodeScript.h"
#include "Valves/Instrument.h"

#include <gtest/gtest.h>

#include <filesystem>

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
    const std::filesystem::path path = std::filesystem::path(testing::TempDir()) / "outside-reader.mid";
    const Result<Done> written = writeSmfFile(path, file);
    EXPECT_TRUE(written) << written.problem().text();
    return runNodeScript("read-smf.js", path);
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

} // namespace valveladder
