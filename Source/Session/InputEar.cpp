#include "Session/InputEar.h"

#include "Session/Peak.h"

#include <algorithm>
#include <cmath>

namespace valveladder {

namespace {

constexpr double lowestMidi = 28.0; ///< under the lowest note of a tuba's drill
constexpr double highestMidi = 84.0;
constexpr double levelSeconds = 0.1;
constexpr double leastPeak = 0.003;      ///< about -50 dBFS: below it a room's own noise is not called a note
constexpr float leastPeriodicity = 0.8F; ///< of the normalised autocorrelation; our choice, no source

} // namespace

void InputEar::push(const float* const* sound, int channels, int samples) noexcept {
    if (channels <= 0)
        return;
    std::uint64_t at = written.load(std::memory_order_relaxed);
    for (int i = 0; i < samples; ++i, ++at) {
        float sum = 0.0F;
        for (int channel = 0; channel < channels; ++channel)
            sum += sound[channel][i];
        ring[at % kept].store(sum / static_cast<float>(channels), std::memory_order_relaxed);
    }
    written.store(at, std::memory_order_release);
}

InputEar::Heard InputEar::heard(double sampleRate, bool withPitch) {
    Heard now;
    const std::uint64_t end = written.load(std::memory_order_acquire);
    if (!(sampleRate > 0.0))
        return now;
    std::vector<float> sound(kept); // what was never written is silence
    for (std::size_t i = 0; i < kept; ++i)
        sound[i] = ring[(end + i) % kept].load(std::memory_order_relaxed);
    const auto recent = std::min<std::size_t>(kept, static_cast<std::size_t>(levelSeconds * sampleRate));
    now.peak = static_cast<double>(peak(std::span(sound).last(recent)));
    if (withPitch && now.peak >= leastPeak)
        now.midi = pitchOf(sound, sampleRate);
    return now;
}

std::optional<double> InputEar::pitchOf(const std::vector<float>& sound, double sampleRate) {
    if (!finder || std::abs(finderRate - sampleRate) > 0.5) {
        finder = std::make_unique<PitchSalience>(sampleRate, lowestMidi, highestMidi);
        finderRate = sampleRate;
    }
    const auto reach = static_cast<std::size_t>(finder->reach());
    if (2 * reach + 2 > kept)
        return std::nullopt;
    Salience salience;
    finder->analyse(sound.data() + (kept - reach - 1), salience);
    const auto best = std::max_element(salience.periodicity.begin(), salience.periodicity.end());
    if (best == salience.periodicity.end() || *best < leastPeriodicity)
        return std::nullopt;
    return salience.midi[static_cast<std::size_t>(best - salience.periodicity.begin())];
}

} // namespace valveladder
