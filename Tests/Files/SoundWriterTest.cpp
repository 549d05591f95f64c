#include "Files/SoundWriter.h"

#include "Files/SoundFile.h"
#include "Log/TempFolder.h"

#include <gtest/gtest.h>

#include <cmath>
#include <limits>

namespace valveladder {
namespace {

std::vector<float> read(const std::filesystem::path& path) {
    std::vector<float> all;
    const auto found = readSound(path, std::nullopt, [&](std::span<const float> piece) {
        all.insert(all.end(), piece.begin(), piece.end());
    });
    EXPECT_TRUE(found.ok()) << (found.ok() ? "" : found.problem().text());
    return all;
}

TEST(SoundWriter, PiecesOfAnyLengthComeBackEqualTo24Bits) {
    const TempFolder folder;
    const auto path = folder / "sound.flac";
    std::vector<float> sound(20000);
    for (std::size_t i = 0; i < sound.size(); ++i)
        sound[i] = 0.9F * std::sin(static_cast<float>(i) * 0.031F);
    auto opened = SoundWriter::open(path, 44100.0, {"a title", "a comment"});
    ASSERT_TRUE(opened.ok()) << opened.problem().text();
    std::span<const float> rest = sound;
    for (std::size_t length = 1; !rest.empty(); length = length * 3 % 5003) {
        ASSERT_TRUE(opened.value()->write(rest.first(std::min(length, rest.size()))).ok());
        rest = rest.subspan(std::min(length, rest.size()));
    }
    ASSERT_TRUE(opened.value()->close().ok());
    const auto back = read(path);
    ASSERT_EQ(back.size(), sound.size());
    for (std::size_t i = 0; i < back.size(); ++i)
        ASSERT_NEAR(back[i], sound[i], std::ldexp(1.0, -23)) << i;
}

TEST(SoundWriter, TooLoudIsClippedAndNoNumberIsSilence) {
    const TempFolder folder;
    const auto path = folder / "sound.flac";
    auto opened = SoundWriter::open(path, 48000.0, {});
    ASSERT_TRUE(opened.ok());
    const std::vector<float> sound{2.0F, -3.0F, std::numeric_limits<float>::quiet_NaN(),
                                   std::numeric_limits<float>::infinity(), 0.5F};
    ASSERT_TRUE(opened.value()->write(sound).ok());
    ASSERT_TRUE(opened.value()->close().ok());
    const auto back = read(path);
    ASSERT_EQ(back.size(), sound.size());
    const float expected[] = {1.0F, -1.0F, 0.0F, 0.0F, 0.5F};
    for (std::size_t i = 0; i < back.size(); ++i)
        EXPECT_NEAR(back[i], expected[i], 1e-6F) << i;
}

TEST(SoundWriter, WhatCannotBeMadeIsSaid) {
    const TempFolder folder;
    for (const double rate : {0.0, -1.0, 768000.0, std::numeric_limits<double>::quiet_NaN()})
        EXPECT_FALSE(SoundWriter::open(folder / "sound.flac", rate, {}).ok()) << rate;
    const auto refused = SoundWriter::open(folder / "no such folder" / "sound.flac", 48000.0, {});
    ASSERT_FALSE(refused.ok());
    EXPECT_NE(refused.problem().text().find("no such folder"), std::string::npos);
}

TEST(SoundWriter, AfterItsEndNothingCanBeWritten) {
    const TempFolder folder;
    auto opened = SoundWriter::open(folder / "sound.flac", 48000.0, {});
    ASSERT_TRUE(opened.ok());
    const std::vector<float> sound(100, 0.1F);
    ASSERT_TRUE(opened.value()->write(sound).ok());
    ASSERT_TRUE(opened.value()->close().ok());
    EXPECT_FALSE(opened.value()->write(sound).ok());
    EXPECT_FALSE(opened.value()->close().ok());
}

TEST(SoundWriter, WhatIsWrittenAtOnceKeepsToTheSameRules) {
    const TempFolder folder;
    const std::vector<float> sound{2.0F, -3.0F, std::numeric_limits<float>::quiet_NaN(), 0.5F};
    for (const char* name : {"sound.wav", "sound.flac"}) {
        ASSERT_TRUE(writeSound(folder / name, sound, 48000.0).ok());
        const auto back = read(folder / name);
        ASSERT_EQ(back.size(), sound.size());
        const float expected[] = {1.0F, -1.0F, 0.0F, 0.5F};
        for (std::size_t i = 0; i < back.size(); ++i)
            EXPECT_NEAR(back[i], expected[i], std::ldexp(1.0F, -15)) << name << " " << i;
        for (const double rate : {0.0, 768000.0, std::numeric_limits<double>::quiet_NaN()})
            EXPECT_FALSE(writeSound(folder / name, sound, rate).ok()) << name << " " << rate;
    }
}

} // namespace
} // namespace valveladder
