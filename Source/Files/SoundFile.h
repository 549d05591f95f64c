#pragma once

#include "Base/Problem.h"

#include <cstdint>
#include <filesystem>
#include <functional>
#include <memory>
#include <optional>
#include <span>
#include <string>
#include <vector>

namespace valveladder {

struct SoundFormat {
    double sampleRate = 0.0; ///< Hz
    int channels = 0;        ///< 1..SoundFile::maxChannels
    std::int64_t frames = 0; ///< as the header says; a truncated file may hold fewer
    std::string name;        ///< e.g. "WAV (Microsoft)"
};

/// A sound file opened for reading: WAV, AIFF, FLAC and what else libsndfile knows, at any rate. Read in
/// pieces, so that a file of hours needs no memory of its size.
class SoundFile {
public:
    static constexpr int maxChannels = 64;

    /// Fails with a Problem when the file is missing, no sound file, empty, or outside the limits.
    [[nodiscard]] static Result<std::shared_ptr<SoundFile>> open(const std::filesystem::path& path);
    ~SoundFile();
    SoundFile(const SoundFile&) = delete;
    SoundFile& operator=(const SoundFile&) = delete;

    [[nodiscard]] const SoundFormat& format() const { return soundFormat; }
    /// Fills `mono` with the next frames of one channel (0 = first), or of all mixed with equal weight.
    /// Returns how many; 0 at the end, also where a truncated file breaks off.
    [[nodiscard]] std::size_t read(std::span<float> mono, std::optional<int> channel = std::nullopt);
    /// The next read() begins at this frame, 0..format().frames. False where the file cannot be wound to it.
    [[nodiscard]] bool seek(std::int64_t frame);
    /// What whoever wrote the file put down about it; empty when nothing.
    [[nodiscard]] std::string comment() const;
    /// Why reading ended before the frames that the header promised; empty when it did not.
    [[nodiscard]] std::string shortfall() const;

private:
    SoundFile();
    struct Handle;
    std::unique_ptr<Handle> handle;
    SoundFormat soundFormat;
    std::int64_t framesRead = 0;
    std::vector<float> interleaved;
};

/// Hands a whole file to `take` in pieces of one channel or all mixed. `progress` (0..1) may stop it by
/// returning false. Fails as open() does, or when the channel does not exist.
[[nodiscard]] Result<SoundFormat> readSound(const std::filesystem::path& path, std::optional<int> channel,
                                            const std::function<void(std::span<const float>)>& take,
                                            const std::function<bool(double)>& progress = {});

/// Writes one channel at once as SoundWriter does, with 16 bits: as WAV or, by the name's ending, as FLAC.
/// Fails with a Problem when the file cannot be written.
[[nodiscard]] Result<Done> writeSound(const std::filesystem::path& path, std::span<const float> mono,
                                      double sampleRate);

} // namespace valveladder
