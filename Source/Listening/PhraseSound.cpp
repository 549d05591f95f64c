#include "Listening/PhraseSound.h"

#include "Listening/AttackConstants.h"
#include "Listening/PhraseConstants.h"

#include <algorithm>

namespace valveladder {

std::span<const float> PhraseSound::part(double from, double to) const {
    const double last = static_cast<double>(samples.size());
    const auto a = static_cast<std::size_t>(std::clamp(from, 0.0, last));
    const auto b = static_cast<std::size_t>(std::clamp(to, 0.0, last));
    return b > a ? samples.subspan(a, b - a) : std::span<const float>{};
}

std::optional<PhraseSound> soundOf(const Phrase& phrase, const SampleRing& ring, double rate) {
    const auto margin = static_cast<std::int64_t>(phrase::slowSeconds * rate);
    const auto length = static_cast<std::int64_t>(phrase.frames.size()) * phrase.hop;
    const std::int64_t first = std::max(ring.begin(), phrase.firstCentre - margin);
    const std::int64_t last = std::min(ring.end(), phrase.firstCentre + length + margin);
    if (last <= first)
        return std::nullopt;
    const std::span<const float> samples(ring.at(first), static_cast<std::size_t>(last - first));
    return PhraseSound{samples, Envelope(samples), first, static_cast<double>(phrase.earliest - first), rate};
}

QuietPlace quietest(const PhraseSound& sound, double from, double to, double window) {
    QuietPlace quiet{from, sound.envelope.rms(from, window)};
    for (double t = from; t <= to; t += attack::fineStep * window) {
        const double level = sound.envelope.rms(t, window);
        if (level < quiet.level)
            quiet = {t, level};
    }
    return quiet;
}

} // namespace valveladder
