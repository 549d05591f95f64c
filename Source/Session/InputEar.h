#pragma once

#include "Listening/PitchSalience.h"

#include <array>
#include <atomic>
#include <cstdint>
#include <memory>
#include <optional>
#include <vector>

namespace valveladder {

/// What comes in now, whether a take runs or not: for a level and a pitch to be shown. Keeps the last
/// `kept` samples; a reader that is overtaken sees a mixture of old and new for one look, which shows for a
/// tenth of a second at most.
class InputEar {
public:
    static constexpr std::size_t kept = 1U << 15U;

    /// [audio] The next sound, of `channels` that are mixed in equal parts.
    void push(const float* const* sound, int channels, int samples) noexcept;

    struct Heard {
        double peak = 0.0;          ///< of the last tenth of a second, full scale = 1
        std::optional<double> midi; ///< fractional MIDI number at A4 = 440 Hz; absent where no pitch is sure
    };
    /// [message] `sampleRate` in Hz; the pitch takes some milliseconds.
    [[nodiscard]] Heard heard(double sampleRate, bool withPitch);

private:
    [[nodiscard]] std::optional<double> pitchOf(const std::vector<float>& sound, double sampleRate);

    std::array<std::atomic<float>, kept> ring{};
    std::atomic<std::uint64_t> written{0};
    std::unique_ptr<PitchSalience> finder; ///< [message] for `finderRate`
    double finderRate = 0.0;
};

} // namespace valveladder
