#pragma once

#include <array>
#include <cstdint>
#include <span>

namespace valveladder {

/// What sounds. Tone, drone, pad and bass last until they are released; the others die away by themselves.
enum class Timbre : std::uint8_t { click, tone, drone, pad, bass, bassDrum, snare, hat };

/// One sound of the synth: a pure function of what it was begun with and of the samples since, so that a
/// stroke sounds the same however the blocks are cut. Its first sample is not zero, and no step of it is
/// larger than its waveform's own. [audio]
class Voice {
public:
    /// Begins at the next sample rendered. `hz` is that of the lowest partial, `peak` the amplitude that is
    /// never exceeded.
    void begin(Timbre timbre, double hz, double peak, double sampleRate) noexcept;
    /// Lets it die away from where it is; nothing for sounds that do so by themselves.
    void release() noexcept;
    /// Adds the next samples.
    void render(std::span<double> mix) noexcept;
    void stop() noexcept { left = 0; } ///< at once

    [[nodiscard]] bool sounds() const noexcept { return left > 0; }
    [[nodiscard]] bool released() const noexcept { return releasing; }
    [[nodiscard]] std::int64_t age() const noexcept { return passed; } ///< samples since it began

private:
    [[nodiscard]] double wave() noexcept;
    [[nodiscard]] double envelope() noexcept;
    [[nodiscard]] double partials() const noexcept;
    void layPartials(double hz, double tilt) noexcept;
    [[nodiscard]] double noise() noexcept;

    Timbre timbre = Timbre::click;
    double peak = 0.0;
    double rate = 48000.0;
    double phase = 0.0, step = 0.0; ///< radians
    double fall = 0.0;              ///< of the step, a sample: of a drum's pitch
    static constexpr int mostPartials = 10;
    int partialCount = 1;
    std::array<double, mostPartials> amplitudes{}; ///< of the partials; their sum is 1
    double decayed = 1.0, decay = 1.0;             ///< envelope that falls by itself, and its share a sample
    double risen = 0.0, rise = 1.0;                ///< attack, 0..1, and its growth a sample
    double held = 1.0, fallOff = 0.0;              ///< release, 1..0, and its loss a sample
    std::int64_t left = 0;                         ///< samples until silence; while held, that is far away
    std::int64_t passed = 0;
    std::int64_t taper = 1; ///< the last samples in which a dying sound goes to zero
    bool releasing = false;
    double noiseShare = 0.0; ///< 0..1
    std::uint32_t random = 1;
    double lastNoise = 0.0;
};

} // namespace valveladder
