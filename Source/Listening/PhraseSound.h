#pragma once

#include "Listening/Envelope.h"
#include "Listening/Phrase.h"
#include "Listening/SampleRing.h"

#include <cstdint>
#include <optional>
#include <span>

namespace valveladder {

/// The sound of a phrase, a little before and after it included. Places and lengths are in samples of it; the
/// samples themselves belong to the ring that they were taken from.
struct PhraseSound {
    std::span<const float> samples; ///< without direct current, full scale = 1
    Envelope envelope;
    std::int64_t first = 0; ///< place of samples[0] in the stream
    double earliest = 0.0;  ///< no note begins before this; negative where that lies before the sound
    double rate = 1.0;      ///< Hz

    [[nodiscard]] double seconds(double length) const { return length / rate; }
    [[nodiscard]] double lengthOf(double seconds) const { return seconds * rate; }
    /// When a place sounds, seconds of the stream.
    [[nodiscard]] double timeOf(double place) const { return seconds(static_cast<double>(first) + place); }
    /// The samples in [from, to), as far as there are any.
    [[nodiscard]] std::span<const float> part(double from, double to) const;
};

/// What `ring` still holds of the sound of a phrase, at `rate` Hz; nothing where that is nothing.
[[nodiscard]] std::optional<PhraseSound> soundOf(const Phrase& phrase, const SampleRing& ring, double rate);

/// A stretch of a phrase's sound, samples into it; empty where it does not end after its beginning.
struct SoundSpan {
    double from = 0.0;
    double to = 0.0;
};

struct QuietPlace {
    double place = 0.0; ///< samples into the sound
    double level = 0.0; ///< root mean square, full scale = 1
};

/// The first of the quietest places in [from, to], levels taken over `window` samples.
[[nodiscard]] QuietPlace quietest(const PhraseSound& sound, double from, double to, double window);

} // namespace valveladder
