#include "Files/SoundFile.h"
#include "KeptSound/TakePlayback.h"
#include "Session/SoundStage.h"

#include <gtest/gtest.h>

#include <cmath>
#include <csignal>
#include <cstdlib>
#include <fstream>
#include <sys/resource.h>

namespace valveladder {
namespace {

using testing::SoundStage;
namespace fs = std::filesystem;

SessionConfig keeping() {
    SessionConfig config = SoundStage::quick();
    config.keepSound.on = true;
    return config;
}

std::vector<float> read(const fs::path& path, SoundFormat& format) {
    std::vector<float> all;
    const auto found = readSound(path, std::nullopt, [&](std::span<const float> piece) {
        all.insert(all.end(), piece.begin(), piece.end());
    });
    EXPECT_TRUE(found.ok()) << (found.ok() ? "" : found.problem().text());
    if (found)
        format = found.value();
    return all;
}

/// Of the transport, at the stage's 90 bpm.
double firstBeatSeconds(const SoundStage& stage) {
    return static_cast<double>(stage.score().notes.front().onset) / ticksPerQuarter * 60.0 / 90.0;
}

void makeFile(const fs::path& path, std::size_t bytes) {
    fs::create_directories(path.parent_path());
    std::ofstream(path, std::ios::binary) << std::string(bytes, 'x');
}

TEST(KeptSound, IsOffByDefault) {
    EXPECT_FALSE(SessionConfig{}.keepSound.on);
    EXPECT_FALSE(SessionConfig{}.keepSound.dropOldest);
    SoundStage stage;
    stage.playPass();
    stage.rollTo(stage.lapQuarters());
    stage.stop();
    EXPECT_EQ(stage.take().soundFile, "");
    EXPECT_FALSE(fs::exists(stage.folder / "sound"));
}

TEST(KeptSound, OfATakeIsEqualToWhatCameIn) {
    SoundStage stage(keeping());
    stage.playPass();
    std::int64_t begin = -1;
    stage.afterBlock = [&] {
        if (begin < 0 && stage.session->view().inTake)
            begin = stage.at - stage.blockSamples;
    };
    stage.rollTo(stage.lapQuarters());
    stage.stop();
    const TakeRecord take = stage.take();
    ASSERT_FALSE(take.soundFile.empty());
    EXPECT_EQ(take.performance.count(Outcome::right), static_cast<int>(take.performance.notes.size()));
    SoundFormat format;
    const auto kept = read(stage.folder / take.soundFile, format);
    EXPECT_EQ(format.sampleRate, 48000.0);
    EXPECT_EQ(format.channels, 1);
    EXPECT_NE(format.name.find("FLAC"), std::string::npos);
    // The take begins at the drill's first beat; a quarter of a second before it is kept for early entries.
    const auto edge = static_cast<std::int64_t>(std::llround(firstBeatSeconds(stage) * 48000.0));
    const std::int64_t from = edge - 12000;
    ASSERT_GT(kept.size(), 48000U);
    for (std::size_t i = 0; i < kept.size(); ++i) {
        const auto at = static_cast<std::size_t>(from) + i;
        const float came = at < stage.sound.size() ? stage.sound[at] : 0.0F;
        ASSERT_NEAR(kept[i], came, std::ldexp(1.0, -23)) << i;
    }
}

TEST(KeptSound, OfATakeIsPlayedFromAnyNoteWhereThePlayerPlayedIt) {
    constexpr double roundTripMs = 35.0;
    SessionConfig config = keeping();
    config.roundTripMs = roundTripMs;
    SoundStage stage(config);
    const auto plan = stage.plan({.jitterMs = 12.0}, 5);
    stage.play(plan, 5, roundTripMs / 1000.0);
    stage.rollTo(stage.lapQuarters());
    stage.stop();
    const TakeRecord take = stage.take();
    const auto found = playableTake(take, stage.score(), stage.folder);
    ASSERT_TRUE(found.ok()) << found.problem().text();
    const PlayableTake& playable = found.value();
    ASSERT_EQ(playable.onsets.size(), plan.notes.size());
    const double fileBegin = firstBeatSeconds(stage) - 0.25;
    constexpr double near = 0.02; // the promise for an onset that is heard
    for (std::size_t i = 0; i < plan.notes.size(); ++i)
        EXPECT_NEAR(playable.onsets[i], plan.notes[i].onset + roundTripMs / 1000.0 - fileBegin, near) << i;
    const auto pieces = pieceFrom(playable, 3);
    ASSERT_EQ(pieces.size(), 1U);
    EXPECT_EQ(pieces.front().file, stage.folder / take.soundFile);
    EXPECT_NEAR(pieces.front().fromSeconds, playable.onsets[3], near);
}

TEST(KeptSound, OfATakeWithoutPlayingIsRemoved) {
    SoundStage stage(keeping());
    stage.rollTo(stage.lapQuarters());
    stage.stop();
    EXPECT_TRUE(stage.takes().empty());
    EXPECT_EQ(KeptSoundFolder(stage.folder / "log.sqlite").bytes(), 0U);
}

TEST(KeptSound, AtTheLimitNothingIsRemovedUnlessThePlayerAgreed) {
    SessionConfig config = keeping();
    config.keepSound.limitMb = KeepSound::minLimitMb;
    SoundStage stage(config);
    const fs::path old = stage.folder / "sound" / KeptSoundFolder::fileName(1'700'000'000'000, "0b6f5a52");
    makeFile(old, 9'900'000);
    stage.playPass();
    stage.rollTo(stage.lapQuarters());
    stage.stop();
    const TakeRecord take = stage.take();
    EXPECT_EQ(take.soundFile, "");
    EXPECT_TRUE(fs::exists(old));
    ASSERT_FALSE(take.messages.empty());
    EXPECT_NE(take.messages.front().find("limit of 10 MB"), std::string::npos);
    EXPECT_TRUE(stage.said("limit of 10 MB"));
    EXPECT_EQ(take.performance.count(Outcome::right), static_cast<int>(take.performance.notes.size()))
        << "the take itself is not touched";
}

TEST(KeptSound, WithThePlayersAgreementTheOldestMakesRoomAndNothingElse) {
    SessionConfig config = keeping();
    config.keepSound.limitMb = KeepSound::minLimitMb;
    config.keepSound.dropOldest = true;
    SoundStage stage(config);
    const fs::path folder = stage.folder / "sound";
    const fs::path oldest = folder / KeptSoundFolder::fileName(1'700'000'000'000, "0b6f5a52");
    const fs::path newer = folder / KeptSoundFolder::fileName(1'700'000'100'000, "0b6f5a52");
    const fs::path foreign = folder / "a-recording-of-the-player.flac";
    makeFile(oldest, 5'000'000);
    makeFile(newer, 4'900'000);
    makeFile(foreign, 9'000'000);
    stage.playPass();
    stage.rollTo(stage.lapQuarters());
    stage.stop();
    const TakeRecord take = stage.take();
    ASSERT_FALSE(take.soundFile.empty());
    EXPECT_FALSE(fs::exists(oldest));
    EXPECT_TRUE(fs::exists(newer));
    EXPECT_TRUE(fs::exists(foreign));
    EXPECT_TRUE(stage.said(oldest.filename().string() + " was removed"));
    EXPECT_LE(KeptSoundFolder(stage.folder / "log.sqlite").bytes(), 10'000'000U);
}

TEST(KeptSound, AFolderThatCannotBeMadeIsSaidAndTheTakeIsKept) {
    SoundStage stage(keeping());
    makeFile(stage.folder / "sound", 1); // a file stands where the folder should
    stage.playPass();
    stage.rollTo(stage.lapQuarters());
    stage.stop();
    const TakeRecord take = stage.take();
    EXPECT_EQ(take.soundFile, "");
    EXPECT_EQ(take.performance.count(Outcome::right), static_cast<int>(take.performance.notes.size()));
    ASSERT_FALSE(take.messages.empty());
    EXPECT_NE(take.messages.front().find("not kept"), std::string::npos);
}

/// While it lives no file of this process can grow over `bytes`, as on a full disk.
class FullDisk {
public:
    explicit FullDisk(rlim_t bytes) {
        former = std::signal(SIGXFSZ, SIG_IGN);
        getrlimit(RLIMIT_FSIZE, &before);
        const rlimit now{bytes, before.rlim_max};
        setrlimit(RLIMIT_FSIZE, &now);
    }
    ~FullDisk() {
        setrlimit(RLIMIT_FSIZE, &before);
        std::signal(SIGXFSZ, former);
    }
    FullDisk(const FullDisk&) = delete;
    FullDisk& operator=(const FullDisk&) = delete;

private:
    rlimit before{};
    void (*former)(int) = nullptr;
};

TEST(KeptSound, WritingThatFailsIsSaidLeavesNoHalfFileAndTheTakeIsKept) {
    SoundStage stage(keeping());
    stage.playPass();
    stage.rollTo(stage.lapQuarters() / 2.0);
    {
        const FullDisk full(150'000);
        stage.rollTo(stage.lapQuarters() - 0.1);
    }
    stage.rollTo(stage.lapQuarters());
    stage.stop();
    const TakeRecord take = stage.take();
    EXPECT_EQ(take.soundFile, "");
    EXPECT_EQ(take.performance.count(Outcome::right), static_cast<int>(take.performance.notes.size()));
    ASSERT_FALSE(take.messages.empty());
    EXPECT_NE(take.messages.front().find("could not be written"), std::string::npos);
    EXPECT_EQ(KeptSoundFolder(stage.folder / "log.sqlite").bytes(), 0U);
}

TEST(KeptSound, LimitsOutOfRangeAreRefused) {
    for (const int limit : {-1, 0, KeepSound::minLimitMb - 1, KeepSound::maxLimitMb + 1}) {
        SessionConfig config;
        config.keepSound.limitMb = limit;
        EXPECT_FALSE(checked(config).ok()) << limit;
    }
}

TEST(KeptSound, SwitchedInMidTakeTheTakeGoesOn) {
    SoundStage stage;
    stage.playPass();
    stage.rollTo(stage.lapQuarters() / 2.0);
    SessionConfig config = stage.config;
    config.keepSound.on = true;
    ASSERT_TRUE(stage.session->configure(config).ok());
    stage.rollTo(stage.lapQuarters());
    stage.stop();
    ASSERT_EQ(stage.takes().size(), 1U);
    EXPECT_EQ(stage.take().state, TakeState::whole);
}

} // namespace
} // namespace valveladder
