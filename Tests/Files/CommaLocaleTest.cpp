// In a process whose locale writes numbers with a comma, as hosts set it, everything in and out is the same.
#include "Support/CommaLocale.h"
#include "Base/FileBytes.h"
#include "Files/MusicXml.h"
#include "Files/NoteAnnotations.h"
#include "Files/PracticeSheet.h"
#include "KeptSound/KeptSound.h"
#include "KeptSound/KeptSoundPlace.h"
#include "Log/Export.h"
#include "Log/LogStore.h"
#include "Log/RandomTakes.h"
#include "Log/TempFolder.h"
#include "Records/Json.h"
#include "Score/Score.h"
#include "Words/BreathWords.h"

#include <gtest/gtest.h>

#include <fstream>
#include <iterator>

namespace valveladder {

namespace {

using testing::CommaLocale;

constexpr const char* twoBars = R"(<?xml version="1.0"?><score-partwise version="4.0"><part-list>
<score-part id="P1"><part-name>Trumpet</part-name></score-part></part-list><part id="P1">
<measure number="1"><attributes><divisions>6</divisions><time><beats>2+1</beats><beat-type>4</beat-type></time>
</attributes><direction><sound tempo="92.5"/></direction>
<note><pitch><step>C</step><alter>0.5</alter><octave>4</octave></pitch><duration>9.0</duration></note>
<note><pitch><step>D</step><octave>4</octave></pitch><duration>9</duration></note></measure>
<measure number="2"><direction><direction-type><metronome><beat-unit>quarter</beat-unit>
<per-minute>c. 66.25</per-minute></metronome></direction-type></direction>
<note><pitch><step>E</step><octave>4</octave></pitch><duration>18</duration></note>
<barline><repeat direction="backward" times="3"/></barline></measure></part></score-partwise>)";

Part partOf(const char* text) {
    const std::string_view score = text;
    const auto file = MusicXmlFile::read(std::vector<std::uint8_t>(score.begin(), score.end()));
    EXPECT_TRUE(file) << file.problem().text();
    const auto part = file.value().part({});
    EXPECT_TRUE(part) << part.problem().text();
    return part.value();
}

std::string bytesOf(const std::filesystem::path& path) {
    std::ifstream stream(path, std::ios::binary);
    return {std::istreambuf_iterator<char>(stream), {}};
}

/// Everything that a log gives out, one after another.
std::string exported(const std::filesystem::path& folder) {
    const auto log = LogStore::open(folder / "log.sqlite");
    EXPECT_TRUE(log.ok());
    for (std::uint64_t seed = 0; seed < 5; ++seed)
        EXPECT_TRUE(log.value()->finishTake(RandomTakes(seed).take(20)).ok());
    EXPECT_TRUE(exportCsv(*log.value(), {}, folder / "csv").ok());
    std::string all = exportJson(*log.value(), {}).value();
    for (const char* name : {"takes.csv", "notes.csv", "changes.csv", "segments.csv"})
        all += bytesOf(folder / "csv" / name);
    return all;
}

} // namespace

TEST(CommaLocaleFiles, MusicXmlKeepsItsTemposLengthsAndPitches) {
    const Part before = partOf(twoBars);
    ASSERT_DOUBLE_EQ(before.bpmAt(0), 92.5);
    const CommaLocale comma;
    const Part part = partOf(twoBars);
    EXPECT_DOUBLE_EQ(part.bpmAt(0), 92.5);
    EXPECT_DOUBLE_EQ(part.bpmAt(part.bars[1].start), 66.25);
    EXPECT_EQ(part.notes, before.notes);
    EXPECT_EQ(part.bars, before.bars);
    EXPECT_EQ(part.tempos, before.tempos);
}

TEST(CommaLocaleFiles, AnnotationsKeepTheirTimes) {
    const CommaLocale comma;
    const auto notes = readAnnotations("onset,offset,pitch\n0.125,1.5,60.25\n");
    ASSERT_TRUE(notes) << notes.problem().text();
    EXPECT_EQ(notes.value().front(), (AnnotatedNote{0.125, 1.5, 60.25}));
}

TEST(CommaLocaleFiles, TheLogGivesOutWhatItAlwaysGives) {
    const TempFolder with;
    const TempFolder without;
    const std::string before = exported(without.path());
    const CommaLocale comma;
    EXPECT_EQ(exported(with.path()), before);
    const auto log = LogStore::openReadOnly(with / "log.sqlite");
    ASSERT_TRUE(log.ok());
    EXPECT_TRUE(log.value()->check().ok());
}

TEST(CommaLocaleFiles, JsonAndPracticeSheetsAreTheSame) {
    RandomTakes random(7);
    const TakeRecord take = random.take(30);
    const std::string json = toJson(take);
    const Drill drill;
    const Instrument instrument = *findInstrument("trumpet-b-flat");
    const Score score = buildScore(drill, instrument, 66.5).value();
    const auto sheet = practiceSheet(score, drill, instrument, 66.5);
    ASSERT_TRUE(sheet) << sheet.problem().text();
    const CommaLocale comma;
    EXPECT_EQ(toJson(take), json);
    EXPECT_EQ(takeFromJson(json).value(), take);
    EXPECT_EQ(practiceSheet(score, drill, instrument, 66.5).value(), sheet.value());
    EXPECT_NE(sheet.value().find("66.5"), std::string::npos);
}

TEST(CommaLocaleFiles, WordsNamesAndPlacesAreTheSame) {
    Drill drill;
    drill.repeats = 8;
    const Instrument instrument = *findInstrument("trumpet-b-flat");
    const auto score = buildScore(drill, instrument, 40.5).value();
    const auto warnings = breathWarnings(score, drill, 40.5);
    ASSERT_FALSE(warnings.empty());
    const std::string warned = inWords(warnings.front());
    const KeptSoundPlace place{0.25, 4.125, 92.5};
    const std::string words = toWords(place);
    const std::string name = KeptSoundFolder::fileName(1'700'000'000'123, "0b6f5a52");
    const CommaLocale comma;
    EXPECT_EQ(inWords(warnings.front()), warned);
    EXPECT_EQ(toWords(place), words);
    const auto back = keptSoundPlaceFrom(words);
    ASSERT_TRUE(back);
    EXPECT_DOUBLE_EQ(back->bpm, 92.5);
    EXPECT_DOUBLE_EQ(back->takeSeconds, 0.25);
    EXPECT_EQ(KeptSoundFolder::fileName(1'700'000'000'123, "0b6f5a52"), name);
}

} // namespace valveladder
