#pragma once

#include "Base/Problem.h"
#include "Files/SoundWriter.h"
#include "Log/LockedFile.h"

#include <cstdint>
#include <filesystem>
#include <memory>
#include <optional>
#include <span>
#include <string>
#include <vector>

namespace valveladder {

/// Whether the sound of takes is kept beside the log, and how much of it.
struct KeepSound {
    bool on = false;
    int limitMb = 2000;      ///< of all kept sound together, 10^6 bytes; minLimitMb..maxLimitMb
    bool dropOldest = false; ///< the player agreed: at the limit the oldest file makes room

    static constexpr int minLimitMb = 10;
    static constexpr int maxLimitMb = 10'000'000;

    bool operator==(const KeepSound&) const = default;
};

/// The folder "sound" beside a log, in which the sound of takes is kept as FLAC: one file a take, named by
/// time and take so that the names sort by age. Only files with such names are ever counted or removed.
class KeptSoundFolder {
public:
    explicit KeptSoundFolder(const std::filesystem::path& logPath);

    [[nodiscard]] const std::filesystem::path& path() const { return folder; }
    /// "take-20260301T173000Z-0b6f5a52.flac"
    [[nodiscard]] static std::string fileName(std::int64_t startedUtcMs, const std::string& takeId);
    /// What kept sound takes together, bytes. 0 when the folder is not there.
    [[nodiscard]] std::uint64_t bytes() const;
    /// Sees that `wanted` bytes fit under the limit and on the disk, beside as much for each file that others
    /// are writing. Where the player agreed the oldest files go, other than `spared` and those that are being
    /// written, by any instance; their names are appended to `removed`. A Problem when there is no room.
    [[nodiscard]] Result<Done> makeRoom(const KeepSound& settings, std::uint64_t wanted,
                                        const std::string& spared, std::vector<std::string>& removed) const;

    /// So much of the disk stays free: the log lies on it, too.
    static constexpr std::uint64_t bytesLeftFree = 100'000'000;

private:
    struct Entry {
        std::string name;
        std::uint64_t bytes = 0;
    };
    [[nodiscard]] std::vector<Entry> entries() const; ///< oldest first

    std::filesystem::path folder;
};

/// The sound of one take on its way into the folder. Whatever goes wrong ends the keeping with a word and
/// leaves the take as it is. [worker]
class KeptSound {
public:
    struct Take {
        std::string id;
        std::int64_t startedUtcMs = 0;
        double sampleRate = 48000.0; ///< Hz
        std::string comment;         ///< stands in the file
    };

    KeptSound(const KeptSoundFolder& where, const KeepSound& keep, const Take& take);
    ~KeptSound(); ///< discards a file that was not finished
    KeptSound(const KeptSound&) = delete;
    KeptSound& operator=(const KeptSound&) = delete;

    void write(std::span<const float> mono);
    /// Ends the file. Its name relative to the log's folder; empty when nothing was kept.
    [[nodiscard]] std::string finish();
    /// The take is dropped, or held no sound: its file goes.
    void discard();

    struct Word {
        std::string text;
        bool trouble = false;
    };
    /// What the player should be told; each call yields what is new.
    [[nodiscard]] std::vector<Word> news();

private:
    void open(const Take& take);
    void fail(const Problem& problem);
    [[nodiscard]] bool roomForMore();

    KeptSoundFolder folder;
    KeepSound settings;
    std::string name;
    double rate;
    std::optional<LockedFile> held; ///< tells other instances that the file is being written
    std::unique_ptr<SoundWriter> writer;
    std::uint64_t granted = 0; ///< samples that may be written before room is looked for again
    std::uint64_t written = 0; ///< samples
    std::vector<Word> told;
};

} // namespace valveladder
