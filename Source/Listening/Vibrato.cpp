#include "Listening/Vibrato.h"

#include "Listening/VibratoConstants.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <complex>
#include <cstdint>
#include <numbers>
#include <optional>
#include <utility>

namespace valveladder {

namespace {

using namespace vibrato;

/// Cosine and sine of whole turns, by table: the search needs many and none exactly.
class Turns {
public:
    Turns() {
        for (std::size_t i = 0; i < values.size(); ++i) {
            const double angle =
                2.0 * std::numbers::pi * static_cast<double>(i) / static_cast<double>(values.size());
            values[i] = {static_cast<float>(std::cos(angle)), static_cast<float>(std::sin(angle))};
        }
    }
    [[nodiscard]] std::complex<float> at(double turns) const {
        const double share = turns - std::floor(turns);
        return values[static_cast<std::size_t>(share * size) % values.size()];
    }

private:
    static constexpr int size = 1024;
    std::array<std::complex<float>, size> values;
};

const Turns& turns() {
    static const Turns table;
    return table;
}

struct Swing {
    double semitones = 0.0;
    double hz = 0.0;
    double phase = 0.0; ///< turns at the first frame of the phrase

    [[nodiscard]] double at(int frame) const {
        return semitones *
               static_cast<double>(turns().at(hz * PitchContour::frameSeconds * frame + phase).imag());
    }
};

struct Point {
    int frame;
    std::complex<float> pitch; ///< modulo a semitone, as a vector of the contour's periodicity
};

/// How still the points stand when a swing is taken off: 0..1.
double stillness(std::span<const Point> points, const Swing& swing) {
    std::complex<float> sum{};
    float weight = 0.0F;
    for (const Point& p : points) {
        sum += p.pitch * turns().at(-swing.at(p.frame));
        weight += std::abs(p.pitch.real()) + std::abs(p.pitch.imag()) > 0.0F ? std::abs(p.pitch) : 0.0F;
    }
    return weight > 0.0F ? static_cast<double>(std::abs(sum) / weight) : 1.0;
}

std::vector<Point> pointsOf(std::span<const ContourFrame> frames, int first, int last) {
    std::vector<Point> points;
    for (int f = first; f < last; f += stride) {
        const ContourFrame& frame = frames[static_cast<std::size_t>(f)];
        if (frame.voiced())
            points.push_back({f, turns().at(static_cast<double>(frame.midi)) * frame.periodicity});
    }
    return points;
}

struct Found {
    Swing swing;
    double height = 0.0;
};

void tryOne(std::span<const Point> points, const Swing& swing, Found& best) {
    if (const double height = stillness(points, swing); height > best.height)
        best = {swing, height};
}

Found searched(std::span<const Point> points) {
    Found best;
    for (double hz = lowestHz; hz <= highestHz; hz += hzStep)
        for (double semitones = leastSemitones; semitones <= mostSemitones; semitones += semitoneStep)
            for (int phase = 0; phase < phases; ++phase)
                tryOne(points, {semitones, hz, static_cast<double>(phase) / phases}, best);
    double share = 0.5;
    const int middle = points[points.size() / 2].frame;
    for (int i = 0; i < refinements; ++i, share *= 0.5) {
        for (const double way : {-share, share}) {
            Swing s = best.swing;
            s.semitones += way * semitoneStep;
            tryOne(points, s, best);
            s = best.swing;
            s.phase += way / phases;
            tryOne(points, s, best);
            s = best.swing; // about the middle, so that the phase there stays
            s.hz += way * hzStep;
            s.phase -= way * hzStep * PitchContour::frameSeconds * middle;
            tryOne(points, s, best);
        }
    }
    return best;
}

struct Window {
    int first;
    int last;
    std::vector<Point> points;
    double before = 1.0; ///< stillness with nothing taken off
    std::optional<Swing> swing;
};

std::vector<Window> windowsOf(std::span<const ContourFrame> frames) {
    const int count = static_cast<int>(frames.size());
    std::vector<Window> windows;
    for (int first = 0; first == 0 || first + windowFrames - hopFrames < count; first += hopFrames) {
        const int last = std::min(count, first + windowFrames);
        Window window{first, last, pointsOf(frames, first, last), 1.0, std::nullopt};
        if (static_cast<int>(window.points.size()) >= leastPoints)
            window.before = stillness(window.points, {});
        if (window.before < still) {
            const Found found = searched(window.points);
            const double turnsSeen = found.swing.hz * PitchContour::frameSeconds * stride *
                                     static_cast<double>(window.points.size());
            if (turnsSeen >= leastTurns && found.height >= leastHeight &&
                found.height >= window.before + leastGain)
                window.swing = found.swing;
        }
        windows.push_back(std::move(window));
    }
    return windows;
}

/// A window that cannot tell by itself, as where a note speaks off its pitch: the swing beside it goes on if
/// that makes it stiller.
void goOn(Window& window, const Window& beside) {
    if (!window.swing && beside.swing && window.before < still &&
        stillness(window.points, *beside.swing) >= window.before + leastGainGoingOn)
        window.swing = beside.swing;
}

} // namespace

std::vector<float> vibratoOf(std::span<const ContourFrame> frames) {
    std::vector<Window> windows = windowsOf(frames);
    for (std::size_t i = windows.size(); i-- > 1;)
        goOn(windows[i - 1], windows[i]);
    for (std::size_t i = 1; i < windows.size(); ++i)
        goOn(windows[i], windows[i - 1]);
    std::vector<float> swing(frames.size(), 0.0F);
    std::vector<float> weight(frames.size(), 0.0F);
    for (const auto& [first, last, points, before, found] : windows) {
        const double middle = 0.5 * (first + last);
        for (int f = first; f < last; ++f) {
            const auto i = static_cast<std::size_t>(f);
            // Windows overlap: the nearer to its middle, the more one counts.
            const auto w = static_cast<float>(1.0 - std::abs(f + 0.5 - middle) / (0.5 * windowFrames + 1.0));
            weight[i] += w;
            if (found && frames[i].voiced())
                swing[i] += w * static_cast<float>(found->at(f));
        }
    }
    for (std::size_t i = 0; i < swing.size(); ++i)
        swing[i] = weight[i] > 0.0F ? swing[i] / weight[i] : 0.0F;
    return swing;
}

} // namespace valveladder
