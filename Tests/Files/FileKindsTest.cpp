#include "Files/FileKinds.h"

#include "Base/Uuid.h"
#include "Files/SoundFile.h"

#include <gtest/gtest.h>

#include <fstream>

namespace valveladder {

TEST(FileKinds, EndingsCountInSmallLettersAndInCapitals) {
    for (const char* name : {"take.mid", "TAKE.MID", "Take.Midi", "take.MIDI", "take.smf", "TAKE.SMF"})
        EXPECT_TRUE(hasSmfName(name)) << name;
    for (const char* name : {"part.musicxml", "PART.MUSICXML", "part.Xml", "part.mxl", "PART.MXL"})
        EXPECT_TRUE(hasMusicXmlName(name)) << name;
    for (const char* name : {"take.wav", "TAKE.WAV", "take.Flac", "take.AIFF", "take.caf"})
        EXPECT_TRUE(hasSoundName(name)) << name;
    EXPECT_TRUE(hasMxlName("PART.MXL"));
    EXPECT_FALSE(hasMxlName("part.xml"));
}

TEST(FileKinds, OtherNamesAreOfNoKind) {
    for (const char* name : {"mid", ".mid", "take.mid.bak", "take.midi2", "take", "", "take.mid/x"}) {
        EXPECT_FALSE(hasSmfName(name)) << name;
        EXPECT_FALSE(hasMusicXmlName(name)) << name;
        EXPECT_FALSE(hasSoundName(name)) << name;
    }
}

TEST(FileKinds, AStandardMidiFileIsKnownByItsFirstFourBytes) {
    EXPECT_TRUE(beginsAsSmf(std::vector<std::uint8_t>{'M', 'T', 'h', 'd'}));
    EXPECT_FALSE(beginsAsSmf(std::vector<std::uint8_t>{'M', 'T', 'h'}));
    EXPECT_FALSE(beginsAsSmf(std::vector<std::uint8_t>{'m', 't', 'h', 'd', 0}));
    EXPECT_FALSE(beginsAsSmf({}));
}

TEST(FileKinds, PatternsNameEveryEnding) {
    EXPECT_EQ(namePatterns(smfEndings), "*.mid;*.midi;*.smf");
}

TEST(FileKinds, SoundWrittenUnderANameInCapitalsIsOfTheKindItSays) {
    const auto path = std::filesystem::path(testing::TempDir()) / (newUuid() + ".FLAC");
    ASSERT_TRUE(writeSound(path, std::vector<float>(480, 0.0F), 48000.0).ok());
    std::string start(4, '\0');
    std::ifstream(path, std::ios::binary).read(start.data(), std::ssize(start));
    EXPECT_EQ(start, "fLaC");
    std::filesystem::remove(path);
}

} // namespace valveladder
