// Kept sound from any note, slowed, in turn, and into the plugin's output.

#include "KeptSound/KeptSoundPlace.h"
#include "KeptSound/StretchedSound.h"
#include "KeptSound/TakePlayback.h"
#include "Plugin/Processor.h"
#include "Screen/KeptTakes.h"
#include "Screen/Within.h"

#include <chrono>
#include <cmath>
#include <fstream>
#include <gtest/gtest.h>

namespace valveladder {

namespace {

using pictures::frequencyNear;
using pictures::KeptTakes;

constexpr double outputRate = 48000.0;

std::vector<float> readAll(StretchedSound& sound, std::size_t most = 1U << 24U) {
    std::vector<float> all;
    std::array<float, 512> piece{};
    while (all.size() < most) {
        const std::size_t got = sound.read(piece);
        if (got == 0)
            break;
        all.insert(all.end(), piece.begin(), piece.begin() + static_cast<std::ptrdiff_t>(got));
    }
    return all;
}

std::vector<float> heard(const PlayedPiece& piece, double slowness, double seconds) {
    auto sound = StretchedSound::open(piece, slowness, outputRate);
    EXPECT_TRUE(sound) << (sound ? "" : sound.problem().text());
    return sound ? readAll(*sound.value(), static_cast<std::size_t>(seconds * outputRate))
                 : std::vector<float>();
}

double rms(std::span<const float> sound) {
    double sum = 0.0;
    for (const float value : sound)
        sum += static_cast<double>(value) * static_cast<double>(value);
    return sound.empty() ? 0.0 : std::sqrt(sum / static_cast<double>(sound.size()));
}

/// When, from `from` on, a stretch of 2 ms first reaches a share of `full`, seconds; negative = never.
double riseAfter(std::span<const float> sound, double from, double full, double share = 0.2) {
    const auto step = static_cast<std::size_t>(0.0005 * outputRate);
    const std::size_t width = 4 * step;
    for (auto at = static_cast<std::size_t>(from * outputRate); at + width < sound.size(); at += step)
        if (rms(sound.subspan(at, width)) > share * full)
            return static_cast<double>(at) / outputRate;
    return -1.0;
}

PlayableTake playable(const KeptTakes& kept, const TakeRecord& take) {
    auto found = playableTake(take, kept.score(), kept.folder());
    EXPECT_TRUE(found) << (found ? "" : found.problem().text());
    return found ? found.value() : PlayableTake{};
}

Playback::Order orderOf(const std::vector<PlayedPiece>& pieces, double slowness = 1.0) {
    return {[pieces] { return Result<std::vector<PlayedPiece>>(pieces); }, slowness};
}

/// One block of the output, at first all zero.
std::vector<float> rendered(Playback& playback, bool allowed = true, int samples = 480) {
    std::vector<float> left(static_cast<std::size_t>(samples));
    std::vector<float> right(left);
    std::array<float*, 2> channels{left.data(), right.data()};
    playback.render(channels.data(), 2, samples, allowed);
    EXPECT_EQ(left, right);
    return left;
}

} // namespace

TEST(TakePlayback, PlaceOfTheTakeIsReadBackFromItsWords) {
    const KeptSoundPlace place{0.25, 4.0, 66.5};
    const auto back = keptSoundPlaceFrom(toWords(place));
    ASSERT_TRUE(back);
    EXPECT_NEAR(back->tick0Seconds(), place.tick0Seconds(), 1e-6);
    // As files of earlier versions have it.
    EXPECT_TRUE(keptSoundPlaceFrom(
        "The take begins 0.250 s into this file, quarter 4.0000 of the drill, at 66.0000 bpm"));
    for (const char* bad : {"", "The take begins soon", "The take begins 0.2 s into this file, quarter x",
                            "The take begins 0.2 s into this file, quarter 4 of the drill, at 0 bpm"})
        EXPECT_FALSE(keptSoundPlaceFrom(bad)) << bad;
}

TEST(TakePlayback, SoundFromAnyNoteBeginsAtThatNotesOnset) {
    const KeptTakes kept;
    const KeptTakes::Wish wish;
    const PlayableTake take = playable(kept, kept.take(wish));
    double worstStart = 0.0;
    double worstNext = 0.0;
    for (const std::size_t note : {0U, 1U, 5U, 8U, 13U, 20U, 24U}) {
        EXPECT_NEAR(take.onsets[note], kept.onsetOf(wish, note), 1e-4);
        for (const double slowness : {1.0, 2.0, 4.0}) {
            const double between = (kept.onsetOf(wish, note + 1) - kept.onsetOf(wish, note)) * slowness;
            const auto sound = heard(pieceFrom(take, note).front(), slowness, between + 0.2);
            const double tone = kept.toneSeconds(note) * slowness;
            const auto middle = std::span(sound).subspan(static_cast<std::size_t>(0.2 * tone * outputRate),
                                                         static_cast<std::size_t>(0.6 * tone * outputRate));
            const double full = rms(middle);
            const double start = riseAfter(sound, 0.0, full);
            ASSERT_GE(start, 0.0);
            worstStart = std::max(worstStart, start);
            const double gap = (riseAfter(sound, between - 0.03, full, 0.5) - between) / slowness;
            worstNext = std::max(worstNext, std::abs(gap));
            const double hz = frequencyHz(kept.score().notes[note].sounding);
            EXPECT_NEAR(centsBetween(frequencyNear(middle, outputRate, hz), hz), 0.0, 6.0)
                << "note " << note << ", slowness " << slowness;
        }
    }
    std::cout << "latest start after the note's onset: " << worstStart * 1000.0
              << " ms; farthest the next onset is off: " << worstNext * 1000.0 << " ms of the take\n";
    EXPECT_LE(worstStart, 0.006);
    EXPECT_LE(worstNext, 0.006);
}

TEST(TakePlayback, SlowedToAQuarterKeepsItsPitchAndLastsFourTimesAsLong) {
    const KeptTakes kept;
    const PlayableTake take = playable(kept, kept.take({}));
    constexpr std::size_t even = 6; // a note of the even segment, as long as the stretch that is listened to
    const PlayedPiece piece = pieceFrom(take, even).front();
    double worst = 0.0;
    for (const double slowness : {1.0, 4.0 / 3.0, 2.0, 4.0}) {
        auto opened = StretchedSound::open(piece, slowness, outputRate);
        ASSERT_TRUE(opened);
        const auto all = readAll(*opened.value());
        const double wanted = (piece.toSeconds - piece.fromSeconds) * slowness * outputRate;
        EXPECT_NEAR(static_cast<double>(all.size()), wanted, 0.01 * outputRate) << slowness;
        const double hz = frequencyHz(kept.score().notes[even].sounding);
        const auto tone = std::span(all).subspan(static_cast<std::size_t>(0.03 * slowness * outputRate),
                                                 static_cast<std::size_t>(0.2 * slowness * outputRate));
        const double cents = centsBetween(frequencyNear(tone, outputRate, hz), hz);
        worst = std::max(worst, std::abs(cents));
        EXPECT_NEAR(cents, 0.0, 3.0) << slowness;
    }
    std::cout << "farthest off pitch: " << worst << " cents\n";
}

TEST(TakePlayback, TwoTakesInTurnAreEquallyLoudWithinOneDecibel) {
    const KeptTakes kept;
    KeptTakes::Wish soft;
    soft.name = "take-20240305T180000Z-00000002.flac";
    soft.level = 0.02;
    soft.lateMs = 30.0;
    const PlayableTake first = playable(kept, kept.take({}));
    const PlayableTake second = playable(kept, kept.take(soft));
    for (const std::size_t note : {0U, 9U, 17U}) {
        const auto pieces = piecesInTurn(first, second, kept.score(), note);
        ASSERT_TRUE(pieces) << pieces.problem().text();
        ASSERT_EQ(pieces.value().size(), 2U);
        EXPECT_NEAR(pieces.value()[0].fromSeconds, kept.onsetOf({}, note), 1e-4);
        EXPECT_NEAR(pieces.value()[1].fromSeconds, kept.onsetOf(soft, note), 1e-4);
        for (const double slowness : {1.0, 4.0}) {
            const double a = rms(heard(pieces.value()[0], slowness, 60.0));
            const double b = rms(heard(pieces.value()[1], slowness, 60.0));
            EXPECT_NEAR(20.0 * std::log10(a / b), 0.0, 1.0) << "note " << note << ", " << slowness;
        }
    }
}

TEST(TakePlayback, AMissedNoteLiesBetweenItsNeighbours) {
    const KeptTakes kept;
    KeptTakes::Wish wish;
    wish.missed = 3;
    const PlayableTake take = playable(kept, kept.take(wish));
    EXPECT_NEAR(take.onsets[3], kept.onsetOf(wish, 3), 0.015);
    EXPECT_TRUE(std::is_sorted(take.onsets.begin(), take.onsets.end()));
    EXPECT_EQ(take.noteAt(take.onsets[7] + 0.01), 7U);
}

TEST(TakePlayback, ATakeWithoutUsableSoundSaysWhyInWords) {
    const KeptTakes kept;
    TakeRecord take = kept.take({});
    const std::string name = take.soundFile;
    const auto refused = [&] { return playableTake(take, kept.score(), kept.folder()).problem().text(); };
    take.soundFile = "";
    EXPECT_NE(refused().find("no sound was kept of this take. Switch it on in Set-up"), std::string::npos);
    take.soundFile = "sound/take-20240304T180000Z-0000000f.flac";
    EXPECT_NE(refused().find("there is no such file"), std::string::npos);
    for (const char* outside : {"/etc/hostname", "../other.flac", "sound/../../other.flac"}) {
        take.soundFile = outside;
        EXPECT_NE(refused().find("outside its folder"), std::string::npos) << outside;
    }
    std::ofstream(kept.folder() / name, std::ios::binary | std::ios::trunc) << "no sound";
    take.soundFile = name;
    EXPECT_NE(refused().find("no sound file that can be read"), std::string::npos);
}

TEST(Playback, BringsTheSoundToTheOutputAndEnds) {
    const KeptTakes kept;
    const PlayableTake take = playable(kept, kept.take({}));
    PlayedPiece piece = pieceFrom(take, 5).front();
    piece.toSeconds = piece.fromSeconds + 0.4;
    Playback playback;
    playback.setRate(outputRate);
    EXPECT_EQ(playback.state().kind, Playback::State::Kind::idle);
    playback.play(orderOf({piece}));
    std::vector<float> out;
    ASSERT_TRUE(eventually([&] {
        const auto block = rendered(playback);
        out.insert(out.end(), block.begin(), block.end());
        return playback.state().kind == Playback::State::Kind::idle;
    }));
    const auto begun = std::find_if(out.begin(), out.end(), [](float value) { return value != 0.0F; });
    const auto direct = heard(piece, 1.0, 1.0);
    ASSERT_GT(out.end() - begun, static_cast<std::ptrdiff_t>(direct.size()) - 500);
    EXPECT_GT(rms({out.data() + (begun - out.begin()), 9600}), 0.1);
    EXPECT_EQ(rms(rendered(playback)), 0.0);
}

TEST(Playback, StopIsSilentWithinTenMillisecondsAndDoesNotClick) {
    const KeptTakes kept;
    const PlayableTake take = playable(kept, kept.take({}));
    Playback playback;
    playback.setRate(outputRate);
    playback.play(orderOf(pieceFrom(take, 0)));
    float last = 0.0F;
    ASSERT_TRUE(eventually([&] {
        last = rendered(playback).back();
        return std::abs(last) > 0.1F;
    }));
    playback.stop();
    const auto after = rendered(playback, true, 960);
    EXPECT_LT(std::abs(after[0] - last), 0.05F);
    EXPECT_LT(rms(std::span(after).subspan(480)), 1e-3);
    EXPECT_EQ(playback.state().kind, Playback::State::Kind::idle);
}

TEST(Playback, EndsWhereATakeMayRunAndSaysSo) {
    const KeptTakes kept;
    const PlayableTake take = playable(kept, kept.take({}));
    Playback playback;
    playback.setRate(outputRate);
    playback.play(orderOf(pieceFrom(take, 0)));
    ASSERT_TRUE(eventually([&] { return rms(rendered(playback)) > 0.05; }));
    (void)rendered(playback, false, 960);
    EXPECT_EQ(rms(rendered(playback, true)), 0.0) << "it does not come back by itself";
    EXPECT_TRUE(eventually([&] { return playback.state().kind == Playback::State::Kind::cutOff; }));
}

TEST(Playback, SaysWhenNoSoundRuns) {
    const KeptTakes kept;
    const PlayableTake take = playable(kept, kept.take({}));
    Playback playback;
    playback.play(orderOf(pieceFrom(take, 0)));
    ASSERT_TRUE(eventually([&] { return playback.state().kind == Playback::State::Kind::broken; }));
    EXPECT_NE(playback.state().problem->text().find("no sound runs"), std::string::npos);
}

TEST(Playback, IsHeardWhileTheTransportStandsAndNotWhileOurClockRecords) {
    const KeptTakes kept;
    const PlayableTake take = playable(kept, kept.take({}));
    Processor plugin;
    plugin.setRateAndBufferSizeDetails(outputRate, 480);
    plugin.prepareToPlay(outputRate, 480);
    juce::AudioBuffer<float> audio(2, 480);
    const auto block = [&] {
        audio.clear();
        juce::MidiBuffer midi;
        plugin.processBlock(audio, midi);
        return audio.getRMSLevel(0, 0, 480);
    };
    plugin.playback().play(orderOf(pieceFrom(take, 0)));
    EXPECT_TRUE(eventually([&] { return block() > 0.05F; }));
    *plugin.parameterSet().runOwnClock = true;
    for (int i = 0; i < 4; ++i)
        (void)block();
    EXPECT_LT(block(), 1e-4F);
    EXPECT_TRUE(eventually([&] { return plugin.playback().state().kind == Playback::State::Kind::cutOff; }));
    plugin.releaseResources();
}

} // namespace valveladder
