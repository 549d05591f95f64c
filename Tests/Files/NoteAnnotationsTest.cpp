#include "Files/NoteAnnotations.h"

#include "Files/RecordingEvaluation.h"

#include <gtest/gtest.h>

namespace valveladder {

TEST(NoteAnnotations, PlainColumnsAreOnsetOffsetPitch) {
    const auto notes = readAnnotations("1.5,2.0,60\n0.5,1.0,58.5\r\n\n# said twice\n");
    ASSERT_TRUE(notes.ok()) << notes.problem().text();
    EXPECT_EQ(notes.value(), (std::vector<AnnotatedNote>{{0.5, 1.0, 58.5}, {1.5, 2.0, 60.0}}));
}

// The head line of ChoraleBricks' note files (choralebricks/format_spec_csv.py, NOTES_FIELDS, version 1.1).
TEST(NoteAnnotations, NamedColumnsAreFoundWhereverTheyStand) {
    const auto notes = readAnnotations("start_sec,end_sec,dur_sec,pitch,pitch_name,pitch_written,"
                                       "pitch_written_name,pitch_dev_cents,midi_velocity\n"
                                       "0.500,1.250,0.750,58,A#3,60,C4,3,64\n");
    ASSERT_TRUE(notes.ok()) << notes.problem().text();
    EXPECT_EQ(notes.value(), (std::vector<AnnotatedNote>{{0.5, 1.25, 58.0}}));
}

TEST(NoteAnnotations, DurationsNamesHertzAndSemicolonsAreUnderstood) {
    const auto named = readAnnotations("\xEF\xBB\xBFnote;onset;duration\n\"F#3\";1;0.5\n");
    ASSERT_TRUE(named.ok()) << named.problem().text();
    EXPECT_EQ(named.value(), (std::vector<AnnotatedNote>{{1.0, 1.5, 54.0}}));
    const auto hertz = readAnnotations("onset\toffset\thz\n0\t1\t440\n1\t2\t0\n");
    ASSERT_TRUE(hertz.ok()) << hertz.problem().text();
    EXPECT_EQ(hertz.value(), (std::vector<AnnotatedNote>{{0.0, 1.0, 69.0}}));
}

TEST(NoteAnnotations, BrokenLinesAreNamed) {
    for (const char* text : {"0,1,60\n0,x,60\n", "0,1,60\n2,1,60\n", "0,1,60\n-1,1,60\n", "0,1,60\n1,2,300\n",
                             "0,1,60\nnan,1,60\n", "0,1,60\n1\n"}) {
        const auto notes = readAnnotations(text);
        ASSERT_FALSE(notes.ok()) << text;
        EXPECT_EQ(notes.problem().where, "line 2") << text;
    }
    EXPECT_FALSE(readAnnotations("").ok());
    EXPECT_FALSE(readAnnotations("onset,offset,loudness\n1,2,3\n").ok());
}

TEST(NoteAnnotations, ScoreToListenWithNeverOverlapsAndPartsAtRests) {
    const Score score = annotatedScore(
        std::vector<AnnotatedNote>{{1.0, 1.6, 60.2}, {1.5, 2.0, 61.0}, {1.5, 2.0, 72.0}, {4.0, 5.0, 62.0}});
    ASSERT_EQ(score.notes.size(), 3u);
    EXPECT_EQ(score.notes[0].length, ticksPerQuarter / 2);
    EXPECT_EQ(score.notes[0].sounding, 60);
    EXPECT_EQ(score.notes[1].sounding, 61);
    ASSERT_EQ(score.spans.size(), 2u);
    EXPECT_EQ(score.spans[0].noteCount, 2);
    EXPECT_EQ(score.spans[1].firstNote, 2);
}

} // namespace valveladder
