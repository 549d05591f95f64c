#include "Support/ImageRoom.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <complex>
#include <random>
#include <unsupported/Eigen/FFT>

namespace valveladder::testing {

namespace {

constexpr double speedOfSound = 343.0; ///< m/s, air at 20 degrees Celsius
using Point = std::array<double, 3>;

struct Shoebox {
    Point sides;
    Point source;
    Point ear;
};

/// A practice room: player and microphone a metre or two apart, well away from the walls.
Shoebox shoebox(std::mt19937& random) {
    const auto between = [&](double low, double high) {
        return std::uniform_real_distribution<double>(low, high)(random);
    };
    const Point sides{between(3.5, 8.0), between(3.0, 6.0), between(2.4, 3.4)};
    const Point source{sides[0] * between(0.3, 0.45), sides[1] * between(0.3, 0.7), between(1.0, 1.5)};
    const Point ear{source[0] + between(0.6, 1.4), source[1] + between(-0.4, 0.4), between(1.0, 1.7)};
    return {sides, source, ear};
}

/// Share of pressure that a wall gives back, by Eyring: RT60 = 24 ln 10 / c * V / (-S ln(1 - absorption)).
double reflection(const Point& s, double reverbSeconds) {
    const double volume = s[0] * s[1] * s[2];
    const double surface = 2.0 * (s[0] * s[1] + s[1] * s[2] + s[0] * s[2]);
    return std::exp(-0.5 * 24.0 * std::log(10.0) / speedOfSound * volume / (surface * reverbSeconds));
}

/// Adds a click between two samples, softened `times` times.
void addClick(std::vector<double>& response, double at, double height, int times) {
    const int reach = 4;
    const auto middle = static_cast<std::ptrdiff_t>(at);
    const double width = 0.7 + 0.06 * times; // samples; each wall takes a little of the highs
    for (std::ptrdiff_t k = middle - reach; k <= middle + reach + 1; ++k)
        if (k >= 0 && k < static_cast<std::ptrdiff_t>(response.size())) {
            const double away = (static_cast<double>(k) - at) / width;
            response[static_cast<std::size_t>(k)] += height / (width * 2.5066) * std::exp(-0.5 * away * away);
        }
}

std::vector<std::complex<float>> transformed(Eigen::FFT<float>& fft, std::vector<float> x, std::size_t size) {
    x.resize(size, 0.0F);
    std::vector<std::complex<float>> spectrum;
    fft.fwd(spectrum, x);
    return spectrum;
}

/// Overlap-add by Fourier transforms.
std::vector<float> convolved(const std::vector<float>& sound, const std::vector<float>& response) {
    std::size_t size = 1;
    while (size < 4 * response.size())
        size *= 2;
    const std::size_t block = size - response.size() + 1;
    Eigen::FFT<float> fft;
    const auto filter = transformed(fft, response, size);
    std::vector<float> out(sound.size(), 0.0F);
    std::vector<float> piece;
    for (std::size_t from = 0; from < sound.size(); from += block) {
        const auto begin = sound.begin() + static_cast<std::ptrdiff_t>(from);
        const auto length = std::min(block, sound.size() - from);
        auto spectrum =
            transformed(fft, std::vector<float>(begin, begin + static_cast<std::ptrdiff_t>(length)), size);
        for (std::size_t i = 0; i < spectrum.size(); ++i)
            spectrum[i] *= filter[i];
        fft.inv(piece, spectrum);
        for (std::size_t i = 0; i < size && from + i < out.size(); ++i)
            out[from + i] += piece[i];
    }
    return out;
}

} // namespace

std::vector<float> roomResponse(const RoomSound& room, double rate, std::uint32_t seed) {
    std::mt19937 random(seed);
    const Shoebox box = shoebox(random);
    const double wall = reflection(box.sides, room.reverbSeconds);
    double direct = 0.0;
    for (std::size_t a = 0; a < 3; ++a)
        direct += std::pow(box.ear[a] - box.source[a], 2.0);
    direct = std::sqrt(direct);
    std::vector<double> tail(static_cast<std::size_t>(room.reverbSeconds * rate), 0.0);
    const double farthest = direct + room.reverbSeconds * speedOfSound;
    std::array<int, 3> most{};
    for (std::size_t a = 0; a < 3; ++a)
        most[a] = static_cast<int>(farthest / (2.0 * box.sides[a])) + 1;
    // Images at 2 n L + s and 2 n L - s; walls met: 2 |n| and |2 n - 1|.
    const auto along = [&](std::size_t a, int n, bool mirrored) {
        return 2.0 * n * box.sides[a] + (mirrored ? -1.0 : 1.0) * box.source[a] - box.ear[a];
    };
    for (int x = -2 * most[0]; x <= 2 * most[0] + 1; ++x)
        for (int y = -2 * most[1]; y <= 2 * most[1] + 1; ++y)
            for (int z = -2 * most[2]; z <= 2 * most[2] + 1; ++z) {
                const std::array<int, 3> cell{x, y, z};
                double square = 0.0;
                int walls = 0;
                for (std::size_t a = 0; a < 3; ++a) {
                    const bool mirrored = cell[a] % 2 != 0;
                    const int n = mirrored ? (cell[a] + 1) / 2 : cell[a] / 2;
                    square += std::pow(along(a, n, mirrored), 2.0);
                    walls += std::abs(mirrored ? 2 * n - 1 : 2 * n);
                }
                const double distance = std::sqrt(square);
                if (walls == 0 || distance >= farthest)
                    continue;
                // A wall turns a little of the sound's phase: without it all images add up at once.
                const double sign = random() % 2 == 0 ? 1.0 : -1.0;
                addClick(tail, (distance - direct) / speedOfSound * rate,
                         sign * std::pow(wall, walls) * direct / distance, walls);
            }
    double energy = 0.0;
    for (const double v : tail)
        energy += v * v;
    const double gain = std::sqrt(std::pow(10.0, -room.directOverTailDb / 10.0) / energy);
    std::vector<float> response(tail.size());
    std::ranges::transform(tail, response.begin(), [&](double v) { return static_cast<float>(gain * v); });
    response.front() += 1.0F;
    return response;
}

void playInRoom(SoundTake& take, const RoomSound& room, std::uint32_t seed) {
    take.samples = convolved(take.samples, roomResponse(room, take.rate, seed));
}

} // namespace valveladder::testing
