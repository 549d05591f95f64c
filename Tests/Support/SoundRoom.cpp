#include "Support/SoundRoom.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <random>

namespace valveladder::testing {

namespace {
float gainOf(double db) {
    return static_cast<float>(std::pow(10.0, db / 20.0));
}
} // namespace

void addNoise(SoundTake& take, double dbfs, std::uint32_t seed) {
    std::mt19937 random(seed);
    std::normal_distribution<float> noise(0.0F, gainOf(dbfs));
    for (float& s : take.samples)
        s += noise(random);
}

void addRoom(SoundTake& take, double reverbSeconds, double wetDb, std::uint32_t seed) {
    // A feedback delay network of eight lines, mixed by a Householder reflection.
    constexpr std::size_t lines = 8;
    std::mt19937 random(seed);
    std::uniform_real_distribution<double> length(0.011, 0.047);
    std::array<std::vector<float>, lines> delay;
    std::array<std::size_t, lines> head{};
    std::array<float, lines> decay{};
    for (std::size_t i = 0; i < lines; ++i) {
        const double seconds = length(random);
        delay[i].assign(static_cast<std::size_t>(seconds * take.rate), 0.0F);
        decay[i] = gainOf(-60.0 * seconds / reverbSeconds);
    }
    const float wet = gainOf(wetDb) / 2.0F;
    for (float& s : take.samples) {
        std::array<float, lines> out{};
        float sum = 0.0F;
        for (std::size_t i = 0; i < lines; ++i) {
            out[i] = delay[i][head[i]] * decay[i];
            sum += out[i];
        }
        float echo = 0.0F;
        for (std::size_t i = 0; i < lines; ++i) {
            delay[i][head[i]] = s + out[i] - 2.0F / lines * sum;
            head[i] = (head[i] + 1) % delay[i].size();
            echo += i % 2 == 0 ? out[i] : -out[i];
        }
        s += wet * echo;
    }
}

void addClicks(SoundTake& take, double firstBeat, double beatSeconds, double dbfs) {
    const double peak = static_cast<double>(gainOf(dbfs));
    const double end = static_cast<double>(take.samples.size()) / take.rate;
    for (double t = firstBeat; t < end; t += beatSeconds)
        for (int i = 0; i < static_cast<int>(0.012 * take.rate); ++i) {
            const auto at =
                static_cast<std::size_t>(std::max(0.0, t) * take.rate) + static_cast<std::size_t>(i);
            if (at < take.samples.size())
                take.samples[at] +=
                    static_cast<float>(peak * std::exp(-i / (0.003 * take.rate)) *
                                       std::sin(2.0 * std::numbers::pi * 1600.0 * i / take.rate));
        }
}

void addHeldNote(SoundTake& take, double hz, double dbfs) {
    const double level = static_cast<double>(gainOf(dbfs));
    for (std::size_t i = 0; i < take.samples.size(); ++i)
        for (int k = 1; k <= 4; ++k)
            take.samples[i] += static_cast<float>(
                level / k *
                std::sin(2.0 * std::numbers::pi * k * hz * static_cast<double>(i) / take.rate + k));
}

void cutLows(SoundTake& take, double hz) {
    const double pole = std::exp(-2.0 * std::numbers::pi * hz / take.rate);
    for (int pass = 0; pass < 2; ++pass) {
        double state = 0.0;
        double before = 0.0;
        for (float& s : take.samples) {
            state = pole * state + static_cast<double>(s) - before;
            before = static_cast<double>(s);
            s = static_cast<float>(state);
        }
    }
}

} // namespace valveladder::testing
