// What the sound listener measures, against what is true of rendered sound. Nothing here is a live player.
#include "Listening/Evaluation.h"
#include "Listening/SoundHearing.h"
#include "Support/CorpusRun.h"

#include <gtest/gtest.h>

#include <cmath>
#include <iostream>
#include <numbers>
#include <random>

namespace valveladder {
namespace {

using testing::Condition;
using testing::CorpusResult;
using testing::corpusSize;
using testing::Part;
using testing::SoundSource;
using testing::TakeRecipe;

CorpusResult synthesis(Condition condition) {
    return testing::runCorpus(Part::test, condition, corpusSize(3, 24), false,
                              [](const TakeRecipe& r) { return r.source == SoundSource::synthesis; });
}

/// A brass-like tone of known frequency: harmonics falling by `slopeDb` an octave, phases by seed.
std::vector<float> tone(double hz, double slopeDb, double rate, double seconds, std::uint32_t seed) {
    std::mt19937 random(seed);
    std::uniform_real_distribution<double> phase(0.0, 2.0 * std::numbers::pi);
    std::vector<double> sum(static_cast<std::size_t>(seconds * rate), 0.0);
    for (int k = 1; k * hz < 0.45 * rate && k <= 40; ++k) {
        const double gain = std::pow(10.0, slopeDb * std::log2(k) / 20.0);
        const double start = phase(random);
        for (std::size_t i = 0; i < sum.size(); ++i)
            sum[i] +=
                gain * std::sin(start + 2.0 * std::numbers::pi * k * hz * static_cast<double>(i) / rate);
    }
    std::vector<float> samples;
    for (const double s : sum)
        samples.push_back(static_cast<float>(0.1 * s));
    const std::vector<float> silence(static_cast<std::size_t>(0.2 * rate), 0.0F);
    samples.insert(samples.begin(), silence.begin(), silence.end());
    samples.insert(samples.end(), silence.begin(), silence.end());
    return samples;
}

} // namespace

TEST(SoundChangeover, AgreesWithTheTruthFrom15To150Ms) {
    const Tally heard = synthesis(Condition::clean).all;
    std::cout << tallyTableHead("changeovers", "-") << tallyTableRow("synthesis, clean", heard);
    ASSERT_GE(heard.changeovers, 60);
    EXPECT_GE(static_cast<int>(heard.changeoverErrorsMs.size()), heard.changeovers * 95 / 100);
    EXPECT_LE(quantile(magnitudesOf(heard.changeoverErrorsMs), 0.5), 5.0);
    EXPECT_LE(std::abs(quantile(heard.changeoverErrorsMs, 0.5)), 2.0);
}

// A4 = 440 Hz, equal temperament: ISO 16.
TEST(SoundPitch, SustainedTonesFromE1ToC6AreWithinTwoCents) {
    constexpr int lowest = 28;
    constexpr int highest = 84;
    constexpr double rate = 44100.0;
    std::vector<double> errors;
    for (const double slopeDb : {-6.0, -12.0})
        for (int midi = lowest; midi <= highest; midi += corpusSize(4, 1)) {
            const double hz = 440.0 * std::exp2((midi - 69) / 12.0);
            SoundHearing hearing(rate, midi - 6.0, midi + 9.0);
            std::vector<HeardNote> notes;
            hearing.push(tone(hz, slopeDb, rate, 1.0, static_cast<std::uint32_t>(midi)), notes);
            hearing.finish(notes);
            ASSERT_EQ(notes.size(), 1u) << midi;
            errors.push_back(100.0 * std::abs(notes[0].midi - midi));
        }
    std::cout << errors.size() << " tones: median " << quantile(errors, 0.5) << " cents, worst "
              << quantile(errors, 1.0) << " cents\n";
    EXPECT_LE(quantile(errors, 0.5), 2.0);
    EXPECT_LE(quantile(errors, 1.0), 5.0);
}

namespace {

struct HeardRhythm {
    std::vector<double> ratios;  ///< relative errors, unsigned
    std::vector<double> spreads; ///< ms, unsigned
};

HeardRhythm rhythmOf(const Tally& heard, const char* title) {
    const HeardRhythm rhythm{magnitudesOf(heard.ratioErrors), magnitudesOf(heard.ioiSpreadErrors)};
    const auto percent = [&](double share) { return 100.0 * quantile(rhythm.ratios, share); };
    std::cout << title << ": " << rhythm.ratios.size() << " ratios: median off by " << percent(0.5)
              << " %, 90 % " << percent(0.9) << " %, worst " << percent(1.0) << " %; "
              << rhythm.spreads.size() << " spreads: median off by " << quantile(rhythm.spreads, 0.5)
              << " ms, bias " << quantile(heard.ioiSpreadErrors, 0.5) << " ms, worst "
              << quantile(rhythm.spreads, 1.0) << " ms\n";
    return rhythm;
}

} // namespace

// The worst ratio falls short of 3 % (Tests/FIGURES.md): nine in ten are within.
TEST(SoundRhythm, OfPlayersInExactTimeNineInTenRatiosAreWithinThreePercentAndSpreadsWithinOneMillisecond) {
    const HeardRhythm rhythm = rhythmOf(synthesis(Condition::clean).all, "in exact time");
    ASSERT_GE(rhythm.ratios.size(), 20u);
    EXPECT_LE(quantile(rhythm.ratios, 0.9), 0.03);
    EXPECT_LE(quantile(rhythm.spreads, 0.5), 1.0);
}

TEST(SoundRhythm, OfUnevenPlayersNineInTenRatiosAreWithinThreePercentAndSpreadsWithinOneMillisecond) {
    const HeardRhythm rhythm = rhythmOf(synthesis(Condition::uneven).all, "uneven by 10 ms");
    ASSERT_GE(rhythm.ratios.size(), 20u);
    EXPECT_LE(quantile(rhythm.ratios, 0.9), 0.03);
    EXPECT_LE(quantile(rhythm.spreads, 0.5), 1.0);
}

// A guard at the first test part's slow tempo.
TEST(SoundRhythm, RatioIsWithinThreePercentAndSpreadWithinThreeMilliseconds) {
    const CorpusResult heard =
        testing::runCorpus(Part::seen, Condition::clean, 3, false, [](const TakeRecipe& r) {
            return r.source == SoundSource::synthesis && r.bpm == 60.0;
        });
    const HeardRhythm rhythm = rhythmOf(heard.all, "60 bpm");
    ASSERT_GE(rhythm.ratios.size(), 8u);
    EXPECT_LE(quantile(rhythm.ratios, 1.0), 0.03);
    EXPECT_LE(quantile(rhythm.spreads, 0.5), 3.0);
}

} // namespace valveladder
