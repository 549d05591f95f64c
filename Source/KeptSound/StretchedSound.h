#pragma once

#include "KeptSound/TakePlayback.h"

#include <memory>
#include <span>

namespace valveladder {

/// A piece of a sound file, slowed without change of pitch, at the rate of the output. One thread at a time;
/// never the audio thread.
class StretchedSound {
public:
    static constexpr double slowest = 4.0; ///< times as long

    /// `slowness` 1 (as played) .. slowest. Fails as SoundFile::open() does, or where the piece lies outside
    /// the file.
    [[nodiscard]] static Result<std::unique_ptr<StretchedSound>> open(const PlayedPiece& piece,
                                                                      double slowness, double outputRate);
    ~StretchedSound();
    StretchedSound(const StretchedSound&) = delete;
    StretchedSound& operator=(const StretchedSound&) = delete;

    /// The next samples, one channel; the piece's first sample comes first, without delay. 0 at the end.
    [[nodiscard]] std::size_t read(std::span<float> mono);
    /// Time in the file of the next sample.
    [[nodiscard]] double seconds() const;
    /// Samples that the whole piece takes at the output's rate.
    [[nodiscard]] std::int64_t length() const;

private:
    struct Inside;
    explicit StretchedSound(std::unique_ptr<Inside> parts);
    std::unique_ptr<Inside> inside;
};

} // namespace valveladder
