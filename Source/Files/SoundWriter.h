#pragma once

#include "Base/Problem.h"

#include <filesystem>
#include <memory>
#include <span>
#include <string>
#include <vector>

namespace valveladder {

/// The kind of file, and bits a sample. With 24, what a converter gave comes back equal, and a mean of two
/// channels to within 2^-23 of full scale.
enum class SoundCoding { flac24, flac16, wav16 };

/// One channel of sound written to a file as it comes. One thread at a time; never the audio thread.
class SoundWriter {
public:
    static constexpr double maxSampleRate = 655350.0; ///< Hz; RFC 9639, section 9.1.2 (20 bits, in tens)

    /// What a reader of the file alone should know.
    struct Words {
        std::string title;
        std::string comment;
    };

    /// Makes the file, in place of one that is there. Fails with a Problem when it cannot be made.
    [[nodiscard]] static Result<std::unique_ptr<SoundWriter>> open(const std::filesystem::path& path,
                                                                   double sampleRate, const Words& words,
                                                                   SoundCoding coding = SoundCoding::flac24);
    /// Ends the file as close() does; what goes wrong then is not told.
    ~SoundWriter();
    SoundWriter(const SoundWriter&) = delete;
    SoundWriter& operator=(const SoundWriter&) = delete;

    /// Appends; full scale = 1, more is clipped, what is no number is silence. After a failure the file is
    /// not to be used.
    [[nodiscard]] Result<Done> write(std::span<const float> mono);
    /// Ends the file. Call once, last.
    [[nodiscard]] Result<Done> close();

    [[nodiscard]] const std::filesystem::path& path() const { return file; }

private:
    explicit SoundWriter(std::filesystem::path target);
    [[nodiscard]] Problem broken() const;

    struct Handle;
    std::filesystem::path file;
    std::unique_ptr<Handle> handle;
    std::vector<float> cleaned;
};

} // namespace valveladder
