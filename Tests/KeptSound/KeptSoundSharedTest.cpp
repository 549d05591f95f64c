// Several instances keep sound in one folder.
#include "Files/SoundFile.h"
#include "KeptSound/KeptSound.h"
#include "Log/TempFolder.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <fstream>

namespace valveladder {

namespace {

namespace fs = std::filesystem;

constexpr double rate = 48000.0;
constexpr std::int64_t earlier = 1'700'000'000'000;

KeepSound small(bool dropOldest = true) {
    KeepSound keep;
    keep.on = true;
    keep.limitMb = KeepSound::minLimitMb;
    keep.dropOldest = dropOldest;
    return keep;
}

KeptSound::Take take(int minute) {
    return {"0b6f5a52", earlier + minute * 60'000, rate, "of a test"};
}

/// Sound that FLAC cannot make smaller.
std::vector<float> noise(double seconds) {
    std::vector<float> samples(static_cast<std::size_t>(seconds * rate));
    std::uint32_t state = 1;
    for (float& sample : samples) {
        state = state * 1664525U + 1013904223U;
        sample = static_cast<float>(state) / 4294967296.0F - 0.5F;
    }
    return samples;
}

std::size_t framesOf(const fs::path& path) {
    std::size_t frames = 0;
    EXPECT_TRUE(readSound(path, std::nullopt, [&](std::span<const float> piece) { frames += piece.size(); }));
    return frames;
}

} // namespace

TEST(KeptSoundShared, WhatAnotherInstanceIsWritingIsNeverDropped) {
    const TempFolder log;
    const KeptSoundFolder folder(log / "log.sqlite");
    KeptSound oldest(folder, small(), take(0));
    const auto sound = noise(20.0); // about 3 MB
    oldest.write(sound);
    KeptSound middle(folder, small(), take(1));
    middle.write(sound);
    ASSERT_FALSE(middle.finish().empty());
    KeptSound newest(folder, small(), take(2));
    newest.write(sound);
    newest.write(sound); // no room for that, unless something goes
    ASSERT_FALSE(newest.finish().empty());
    oldest.write(sound);
    const std::string name = oldest.finish();
    ASSERT_FALSE(name.empty());
    EXPECT_EQ(framesOf(log / name), 2 * sound.size()) << "whole, though it was the oldest";
    EXPECT_FALSE(fs::exists(folder.path() / KeptSoundFolder::fileName(take(1).startedUtcMs, "0b6f5a52")))
        << "the oldest that nobody writes made room";
    EXPECT_LE(folder.bytes(), 10'000'000U);
}

TEST(KeptSoundShared, WithNothingToDropButWhatIsBeingWrittenNoMoreIsKept) {
    const TempFolder log;
    const KeptSoundFolder folder(log / "log.sqlite");
    KeptSound first(folder, small(), take(0));
    const auto sound = noise(40.0); // about 6 MB
    first.write(sound);
    KeptSound second(folder, small(), take(1));
    second.write(sound);
    const std::string kept = second.finish();
    const auto words = second.news();
    EXPECT_TRUE(std::ranges::any_of(words, [](const KeptSound::Word& word) {
        return word.trouble && word.text.find("limit of 10 MB") != std::string::npos;
    }));
    first.write(noise(1.0));
    const std::string name = first.finish();
    ASSERT_FALSE(name.empty());
    EXPECT_GE(framesOf(log / name), sound.size());
    EXPECT_LE(folder.bytes(), 10'000'000U) << "both together";
}

TEST(KeptSoundShared, WhatACrashLeftCanBeDropped) {
    const TempFolder log;
    const KeptSoundFolder folder(log / "log.sqlite");
    fs::create_directories(folder.path());
    const fs::path left = folder.path() / KeptSoundFolder::fileName(earlier - 60'000, "0b6f5a52");
    std::ofstream(left, std::ios::binary) << std::string(9'900'000, 'x'); // nobody holds it
    KeptSound next(folder, small(), take(0));
    next.write(noise(5.0));
    EXPECT_FALSE(next.finish().empty());
    EXPECT_FALSE(fs::exists(left));
}

TEST(KeptSoundShared, AFileOfTheSameNameIsNotWrittenOver) {
    const TempFolder log;
    const KeptSoundFolder folder(log / "log.sqlite");
    KeptSound first(folder, small(), take(0));
    first.write(noise(1.0));
    KeptSound same(folder, small(), take(0));
    same.write(noise(2.0));
    EXPECT_EQ(same.finish(), "");
    const std::string name = first.finish();
    ASSERT_FALSE(name.empty());
    EXPECT_EQ(framesOf(log / name), noise(1.0).size());
}

} // namespace valveladder
