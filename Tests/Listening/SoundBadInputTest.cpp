// Sounds that are no clean take: a clear result or remark, never a crash.
#include "Files/SoundFile.h"
#include "Listening/SoundListener.h"
#include "Support/BrassSynth.h"
#include "Support/CorpusRun.h"
#include "Support/MemoryInUse.h"
#include "Words/RemarkWords.h"

#include <gtest/gtest.h>

#include <filesystem>
#include <fstream>
#include <limits>
#include <random>
#include <unistd.h>

namespace valveladder {
namespace {

constexpr double bpm = 120.0;

Score shortRun() {
    testing::RunShape shape;
    shape.rhythms = {{1}};
    return testing::chromaticRun(shape, bpm);
}

testing::SoundTake playedRun(double rate = 22050.0) {
    return testing::renderBrass(testing::planTake(shortRun(), bpm, {}, {}, 7), testing::trumpetVoice(), 7,
                                rate);
}

Performance hear(std::span<const float> samples, double rate, const Score& score) {
    SoundSettings settings;
    settings.sampleRate = rate;
    SoundListener listener(score, settings);
    listener.push(samples);
    return listener.finish();
}

bool remarks(const Performance& heard, const std::string& word) {
    return std::ranges::any_of(inWords(heard.remarks),
                               [&](const std::string& r) { return r.find(word) != r.npos; });
}

std::filesystem::path scratch(const std::string& name) {
    return std::filesystem::path(::testing::TempDir()) / (std::to_string(getpid()) + name);
}

int rightOf(const Performance& heard) {
    return heard.count(Outcome::right);
}

} // namespace

TEST(SoundBadInput, EmptyAndSilentSoundsAreSaidToBeSo) {
    const Score score = shortRun();
    EXPECT_TRUE(remarks(hear({}, 44100.0, score), "empty"));
    const std::vector<float> silence(88200, 0.0F);
    EXPECT_TRUE(remarks(hear(silence, 44100.0, score), "silent"));
    EXPECT_EQ(rightOf(hear(silence, 44100.0, score)), 0);
}

TEST(SoundBadInput, ClippedSoundIsHeardAndSaidToBeClipped) {
    const Score score = shortRun();
    testing::SoundTake take = playedRun();
    for (float& s : take.samples)
        s = std::clamp(12.0F * s, -1.0F, 1.0F);
    const Performance heard = hear(take.samples, take.rate, score);
    EXPECT_EQ(rightOf(heard), static_cast<int>(score.notes.size()));
    EXPECT_TRUE(remarks(heard, "full scale"));
}

TEST(SoundBadInput, SamplesThatAreNoNumbersCountAsSilenceAndAreCounted) {
    const Score score = shortRun();
    testing::SoundTake take = playedRun();
    std::mt19937 random(5);
    constexpr int broken = 40;
    for (int i = 0; i < broken; ++i) {
        const float bad[] = {std::numeric_limits<float>::quiet_NaN(), std::numeric_limits<float>::infinity(),
                             -std::numeric_limits<float>::infinity(), 3e38F};
        take.samples[random() % take.samples.size()] = bad[i % 4];
    }
    const Performance heard = hear(take.samples, take.rate, score);
    EXPECT_GE(rightOf(heard), static_cast<int>(score.notes.size()) - 2);
    EXPECT_TRUE(remarks(heard, "no numbers"));
    const std::vector<float> nothingElse(50000, std::numeric_limits<float>::quiet_NaN());
    EXPECT_EQ(rightOf(hear(nothingElse, 48000.0, score)), 0);
}

TEST(SoundBadInput, RatesFrom8To192KilohertzHearTheSameNotes) {
    const Score score = shortRun();
    for (const double rate : {8000.0, 11025.0, 48000.0, 192000.0})
        EXPECT_EQ(rightOf(hear(playedRun(rate).samples, rate, score)), static_cast<int>(score.notes.size()))
            << rate;
    SoundSettings settings;
    for (const double rate : {0.0, -1.0, 1e9, std::numeric_limits<double>::quiet_NaN()}) {
        settings.sampleRate = rate;
        EXPECT_FALSE(checked(settings).ok()) << rate;
    }
}

TEST(SoundBadInput, SettingsOutOfRangeAreRefusedWithTheirLimits) {
    SoundSettings slow;
    slow.sampleRate = 1000.0;
    EXPECT_EQ(checked(slow).problem().remedy, "use 4000 to 768000 Hz");
    for (const double ms : {-1000.5, 1000.5, std::numeric_limits<double>::quiet_NaN()}) {
        SoundSettings late;
        late.roundTripMs = ms;
        ASSERT_FALSE(checked(late).ok()) << ms;
        EXPECT_NE(checked(late).problem().what.find("-1000 to 1000 ms"), std::string::npos);
    }
    for (const double ms : {-1000.0, 1000.0}) {
        SoundSettings late;
        late.roundTripMs = ms;
        EXPECT_TRUE(checked(late).ok()) << ms;
    }
}

TEST(SoundBadInput, AnotherPieceIsSaidNotToFit) {
    const Score score = shortRun();
    testing::RunShape other;
    other.transposition = -9;
    other.rhythms = {{1, 1, 3}};
    const auto plan = testing::planTake(testing::chromaticRun(other, 77.0), 77.0, {}, {}, 8);
    const auto take = testing::renderBrass(plan, testing::trumpetVoice(), 8, 22050.0);
    SoundSettings settings;
    settings.sampleRate = take.rate;
    settings.tempo = TempoMap(bpm);
    settings.startSeconds = 0.3;
    SoundListener listener(score, settings);
    listener.push(take.samples);
    EXPECT_TRUE(remarks(listener.finish(), "another piece"));
}

TEST(SoundBadInput, NoiseAloneYieldsNoRightNoteThatIsBelieved) {
    const Score score = shortRun();
    std::mt19937 random(9);
    std::normal_distribution<float> noise(0.0F, 0.1F);
    std::vector<float> samples(220500);
    for (float& s : samples)
        s = noise(random);
    EXPECT_LE(rightOf(hear(samples, 22050.0, score)), 1);
}

TEST(SoundBadInput, TruncatedFileIsReadAsFarAsItGoesAndSaidToBreakOff) {
    const auto path = scratch("cut.wav");
    const testing::SoundTake take = playedRun();
    ASSERT_TRUE(writeSound(path, take.samples, take.rate).ok());
    std::filesystem::resize_file(path, std::filesystem::file_size(path) / 2);
    auto opened = SoundFile::open(path);
    if (opened) {
        std::vector<float> samples(take.samples.size());
        const std::size_t got = opened.value()->read(samples);
        EXPECT_LT(got, samples.size());
        const Score score = shortRun();
        SoundSettings settings;
        settings.sampleRate = take.rate;
        settings.tempo = TempoMap(bpm);
        settings.startSeconds = take.truth.startSeconds;
        SoundListener listener(score, settings);
        listener.push(std::span(samples).first(got));
        EXPECT_GT(rightOf(listener.finish()), 2);
    } else
        EXPECT_FALSE(opened.problem().remedy.empty());
    std::filesystem::remove(path);
}

// Memory: the listener takes its room at the start, so the process stays as large as it was.
TEST(SoundMemory, HoursOfSoundNeedNoMoreThanMinutes) {
    const Score score = shortRun();
    const testing::SoundTake take = playedRun(8000.0);
    SoundSettings settings;
    settings.sampleRate = take.rate;
    settings.tempo = TempoMap(bpm);
    settings.startSeconds = take.truth.startSeconds;
    SoundListener listener(score, settings);
    const double takeSeconds = static_cast<double>(take.samples.size()) / take.rate;
    const int takes = static_cast<int>(testing::corpusSize(1200, 7200) / takeSeconds);
    std::int64_t early = 0;
    for (int i = 0; i < takes; ++i) {
        listener.push(take.samples);
        if (i == takes / 4)
            early = testing::memoryInUse();
    }
    constexpr std::int64_t slack = 1 << 20;
    EXPECT_LE(testing::memoryInUse(), early + slack);
    const Performance heard = listener.finish();
    EXPECT_EQ(rightOf(heard), static_cast<int>(score.notes.size()));
}

} // namespace valveladder
