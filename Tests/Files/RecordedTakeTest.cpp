#include "Files/GuideFile.h"

#include "Valves/Instrument.h"

#include <gtest/gtest.h>

namespace valveladder {

namespace {

SmfFile recording(std::vector<SmfEvent> events, std::int64_t length = 960 * 16) {
    return {1, 960, {{{smfTempo(0, 60)}, 0}, {std::move(events), length}}};
}

RecordedTake read(const SmfFile& file, int channel = 0, double startQuarter = 0.0) {
    Result<RecordedTake> take = recordedTake(file, channel, startQuarter);
    EXPECT_TRUE(take) << take.problem().text();
    return take.value();
}

} // namespace

TEST(RecordedTake, NotesHaveSecondsOfTheFilesTempoMap) {
    SmfFile file = recording(
        {{960, {0x90, 60, 90}}, {1920, {0x80, 60, 0}}, {2400, {0x90, 62, 80}}, {2880, {0x90, 62, 0}}});
    file.tracks[0].events.push_back(smfTempo(1920, 120));
    const RecordedTake take = read(file);
    EXPECT_EQ(take.take.notes, (std::vector<PlayedNote>{{1.0, 2.0, 60, 90}, {2.25, 2.5, 62, 80}}));
    EXPECT_DOUBLE_EQ(take.tempo.bpmAt(1.0), 60.0);
    EXPECT_DOUBLE_EQ(take.tempo.bpmAt(3.0), 120.0);
}

TEST(RecordedTake, StartQuarterBecomesTheScoresTickZero) {
    SmfFile file = recording({{960 * 4, {0x90, 60, 90}}, {960 * 5, {0x80, 60, 0}}});
    file.tracks[0].events.push_back(smfTempo(960 * 4, 120));
    const RecordedTake take = read(file, 0, 4.0);
    EXPECT_EQ(take.take.notes, (std::vector<PlayedNote>{{0.0, 0.5, 60, 90}}));
    EXPECT_DOUBLE_EQ(take.tempo.bpmAt(-0.5), 60.0);
    EXPECT_DOUBLE_EQ(take.tempo.bpmAt(0.0), 120.0);
}

TEST(RecordedTake, WithoutTempoEventTheTempoIs120) {
    const SmfFile file{0, 480, {{{{480, {0x90, 60, 90}}, {960, {0x80, 60, 0}}}, 960}}};
    EXPECT_EQ(read(file).take.notes, (std::vector<PlayedNote>{{0.5, 1.0, 60, 90}}));
}

TEST(RecordedTake, ChannelIsChosenAndZeroMeansAllButPercussion) {
    const SmfFile file = recording({{0, {0x90, 60, 90}},
                                    {0, {0x92, 64, 90}},
                                    {0, {0x99, 76, 90}},
                                    {960, {0x80, 60, 0}},
                                    {960, {0x82, 64, 0}},
                                    {960, {0x89, 76, 0}}});
    EXPECT_EQ(read(file).take.notes.size(), 2U);
    EXPECT_EQ(read(file, 3).take.notes, (std::vector<PlayedNote>{{0.0, 1.0, 64, 90}}));
    EXPECT_EQ(read(file, 10).take.notes, (std::vector<PlayedNote>{{0.0, 1.0, 76, 90}}));
    EXPECT_TRUE(read(file, 5).take.notes.empty());
}

TEST(RecordedTake, NotesLeftOpenEndWithTheTrack) {
    const RecordedTake take = read(recording({{0, {0x90, 60, 90}}, {960, {0x90, 62, 90}}}, 960 * 4));
    EXPECT_EQ(take.take.notes, (std::vector<PlayedNote>{{0.0, 4.0, 60, 90}, {1.0, 4.0, 62, 90}}));
}

TEST(RecordedTake, AllNotesOffEndsTheChannelsNotes) {
    const RecordedTake take =
        read(recording({{0, {0x90, 60, 90}}, {0, {0x91, 64, 90}}, {960, {0xB0, 123, 0}}}, 960 * 2));
    EXPECT_EQ(take.take.notes, (std::vector<PlayedNote>{{0.0, 1.0, 60, 90}, {0.0, 2.0, 64, 90}}));
}

TEST(RecordedTake, RepeatedNoteEndsInTheOrderItBegan) {
    const RecordedTake take = read(recording(
        {{0, {0x90, 60, 90}}, {960, {0x90, 60, 70}}, {1056, {0x80, 60, 0}}, {1920, {0x80, 60, 0}}}));
    EXPECT_EQ(take.take.notes, (std::vector<PlayedNote>{{0.0, 1.1, 60, 90}, {1.0, 2.0, 60, 70}}));
}

TEST(RecordedTake, ValveControllersCountWhereTheyCross64) {
    const RecordedTake take = read(recording({{0, {0xB0, 20, 10}},
                                              {960, {0xB0, 20, 64}},
                                              {1920, {0xB0, 20, 127}},
                                              {1920, {0xB0, 23, 127}},
                                              {2880, {0xB0, 20, 63}},
                                              {2880, {0xB0, 24, 127}},
                                              {2880, {0xB0, 19, 127}}}));
    EXPECT_EQ(take.take.valves, (std::vector<ValveMove>{{1.0, 1, true}, {2.0, 4, true}, {3.0, 1, false}}));
}

TEST(RecordedTake, TracksAreMergedInOrderOfTime) {
    const SmfFile file{1,
                       960,
                       {{{smfTempo(0, 60), {1920, {0x90, 62, 90}}, {2880, {0x80, 62, 0}}}, 2880},
                        {{{960, {0x90, 60, 90}}, {1920, {0x80, 60, 0}}}, 1920}}};
    EXPECT_EQ(read(file).take.notes, (std::vector<PlayedNote>{{1.0, 2.0, 60, 90}, {2.0, 3.0, 62, 90}}));
}

TEST(RecordedTake, RefusesFormatTwoAndTemposOutsideItsRange) {
    EXPECT_FALSE(recordedTake({2, 960, {{}, {}}}, 0, 0.0));
    for (const std::uint8_t high : {std::uint8_t{0}, std::uint8_t{0xFF}}) {
        SmfFile file = recording({});
        file.tracks[0].events.push_back({1920, {0xFF, 0x51, high, high, high}});
        const Result<RecordedTake> take = recordedTake(file, 0, 0.0);
        ASSERT_FALSE(take);
        EXPECT_EQ(take.problem().where, "quarter 2");
        EXPECT_FALSE(take.problem().remedy.empty());
    }
}

TEST(RecordedTake, GuideFileReadBackIsTheScoreInSeconds) {
    const Instrument& trumpet = *findInstrument("trumpet-b-flat");
    const Score score = buildScore(defaultDrill(trumpet), trumpet, 60.0).value();
    const RecordedTake take = read(guideFile(score, 60.0, {}, "Ladder"));
    ASSERT_EQ(take.take.notes.size(), score.notes.size());
    for (std::size_t i = 0; i < score.notes.size(); ++i) {
        const ScoreNote& note = score.notes[i];
        EXPECT_NEAR(take.take.notes[i].onset, static_cast<double>(note.onset) / ticksPerQuarter, 1e-9);
        EXPECT_NEAR(take.take.notes[i].offset, static_cast<double>(note.onset + note.gate) / ticksPerQuarter,
                    1e-9);
        EXPECT_EQ(take.take.notes[i].pitch, note.sounding);
    }
}

} // namespace valveladder
