#include "Words/RemarkWords.h"

#include "Log/LogStore.h"
#include "Log/RandomTakes.h"
#include "Log/TempFolder.h"
#include "Records/Json.h"

#include <gtest/gtest.h>

#include <set>

namespace valveladder {

namespace {

/// One remark of each kind with the words in which logs hold it since version 1 of their schema.
const std::vector<std::pair<Remark, std::string>>& remarksOfEachKind() {
    using Absent = AbsentMeasure::What;
    using Unusable = UnusableInput::What;
    static const std::vector<std::pair<Remark, std::string>> all{
        {"a text that an older log holds", "a text that an older log holds"},
        {TakeRemark::soundEmpty, "The sound is empty: nothing was recorded"},
        {TakeRemark::soundSilent, "The sound is silent: check the input and its level"},
        {TakeRemark::noNoteHeard, "No notes were heard in the sound"},
        {TakeRemark::otherMusic, "Few of the expected notes were heard: another piece, another tempo, or the "
                                 "drill was not played"},
        {TakeRemark::noSlurredChange, "No changeovers: every change was tongued"},
        {TakeRemark::midiBesideSound, "MIDI notes and sound came; the MIDI notes were measured"},
        {TakeRemark::unusableRate, "The sound was not measured: it came at an unusable sample rate"},
        {TakeRemark::noRoundTrip,
         "No round trip is known, so that everything seems late by the delay of the sound device; evenness "
         "and changeovers do not depend on it"},
        {TakeRemark::guideLeftOut, "The guide's own notes are in the recording as well; they were left out"},
        {AbsentMeasure{Absent::notes, 1, 0}, "1 segment not played"},
        {AbsentMeasure{Absent::notes, 4, 0}, "4 segments not played"},
        {AbsentMeasure{Absent::deviations, 2, 3},
         "No deviations in 2 segments: fewer than 3 notes were heard"},
        {AbsentMeasure{Absent::spread, 2, 5},
         "No spread of onsets or intervals in 2 segments: fewer than 5 of them were heard"},
        {AbsentMeasure{Absent::longShortRatio, 1, 0},
         "No long:short ratio in 1 segment: it takes three long and three short intervals"},
        {AbsentMeasure{Absent::asynchrony, 0, 5}, "No asynchrony of the take: fewer than 5 notes were heard"},
        {UnusableInput{Unusable::timesWithoutSense, 2}, "2 notes were left out: their times make no sense"},
        {UnusableInput{Unusable::notesWithoutLength, 2},
         "2 notes came without a length: gaps and breaths after them are not known"},
        {UnusableInput{Unusable::samplesAtFullScale, 60},
         "60 samples are at full scale: lower the input's level"},
        {UnusableInput{Unusable::samplesWithoutSense, 7},
         "7 samples were no numbers or far over full scale and count as silence"},
        {UnusableInput{Unusable::timesWithoutSense, 1}, "1 note was left out: its time makes no sense"},
        {UnusableInput{Unusable::notesWithoutLength, 1},
         "1 note came without a length: gaps and breaths after it are not known"},
        {UnusableInput{Unusable::samplesAtFullScale, 1},
         "1 sample is at full scale: lower the input's level"},
        {UnusableInput{Unusable::samplesWithoutSense, 1},
         "1 sample was no number or far over full scale and counts as silence"},
        {UnusableInput{Unusable::soundsTooMany, 1}, "1 sound more than there is room for was not weighed"},
        {UnusableInput{Unusable::soundsTooMany, 9}, "9 sounds more than there is room for were not weighed"},
        {OtherRegister{12}, "Everything sounded an octave above the drill and was judged in its own octave: "
                            "set the controller's octave"},
        {OtherRegister{-24}, "Everything sounded two octaves below the drill and was judged in its own "
                             "octave: set the controller's octave"},
        {OtherRegister{-1}, "Everything sounded 1 semitone below the drill: set the controller's "
                            "transposition, or the instrument's"},
        {OtherRegister{2}, "Everything sounded 2 semitones above the drill: set the controller's "
                           "transposition, or the instrument's"},
        {ScoopedNotes{6, 81.4, 35.2},
         "6 notes spoke off their pitch at first: by 81 cents for 35 ms in the median"},
        {SegmentRestarted{1, "F#3-C4", 0, "Even, firm", 3, 12.34},
         "F#3-C4, Even, firm: broken off after 3 notes and begun again at 12.3 s; the last try counts"},
        {SegmentRestarted{1, "", 0, "", 3, 12.34},
         "rung 2, segment 1: broken off after 3 notes and begun again at 12.3 s; the last try counts"},
        {SegmentRestarted{1, "F#3-C4", 0, "Even, firm", 1, 12.34},
         "F#3-C4, Even, firm: broken off after 1 note and begun again at 12.3 s; the last try counts"},
        {NotPlaced{}, "Neither tempo nor start could be found: the sound does not follow the drill"},
        {NotPlaced{{{66.0, 1.5, 40}, {72.254, 0.25, 38}}},
         "Where in the drill this take lies cannot be told for sure. It could be 66 bpm with the count-in "
         "from 1.50 s (40 notes agree) or 72.25 bpm with the count-in from 0.25 s (38 notes agree). Give the "
         "tempo or the start"},
        {DamagedRecording{"it ends after 2.0 of 3.0 s"},
         "The recording is damaged: it ends after 2.0 of 3.0 s"},
    };
    return all;
}

TakeRecord takeWithEachKind() {
    TakeRecord take = RandomTakes(11).take(4);
    take.performance.remarks.clear();
    for (const auto& [remark, words] : remarksOfEachKind())
        take.performance.remarks.push_back(remark);
    return take;
}

std::vector<std::string> wordsOfEachKind() {
    std::vector<std::string> all;
    for (const auto& [remark, words] : remarksOfEachKind())
        all.push_back(words);
    return all;
}

} // namespace

TEST(Words, EachRemarkIsSaidAsLogsHoldIt) {
    std::set<std::size_t> kinds;
    for (const auto& [remark, words] : remarksOfEachKind()) {
        EXPECT_EQ(inWords(remark), words);
        kinds.insert(remark.index());
    }
    EXPECT_EQ(kinds.size(), std::variant_size_v<Remark>) << "a kind of remark is not tried";
}

TEST(Words, ALogAndAnExportKeepARemarkAsItWasTold) {
    const TakeRecord take = takeWithEachKind();
    const auto parsed = takeFromJson(toJson(take));
    ASSERT_TRUE(parsed) << parsed.problem().text();
    EXPECT_EQ(inWords(parsed.value().performance.remarks), wordsOfEachKind());
    const TempFolder folder;
    auto log = LogStore::open(folder / "log.sqlite");
    ASSERT_TRUE(log) << log.problem().text();
    ASSERT_TRUE(log.value()->finishTake(take));
    const auto back = log.value()->take(take.header.id);
    ASSERT_TRUE(back) << back.problem().text();
    EXPECT_EQ(inWords(back.value().performance.remarks), wordsOfEachKind());
}

} // namespace valveladder
