#pragma once

#include "Base/Problem.h"

#include <cstddef>
#include <cstdint>
#include <cstdio>
#include <filesystem>
#include <span>
#include <string_view>
#include <vector>

namespace valveladder {

/// The whole of a file, at most `maxBytes` of it: a larger one is refused before it is read. The problem
/// names the path.
[[nodiscard]] Result<std::vector<std::uint8_t>> readFileBytes(const std::filesystem::path& path,
                                                              std::size_t maxBytes);

/// Writes beside the target, under a name that no file has, and renames, so that a full disk or a lost
/// connection leaves an older file of that name whole. A link stays a link: the file it names is written.
/// The problem names the path.
[[nodiscard]] Result<Done> writeFileBytes(const std::filesystem::path& path,
                                          std::span<const std::uint8_t> bytes);

/// A file in the making: it bears its name only when it is whole, and what was there under another name is
/// never touched. One that is not finished is gone with this object.
class NewFile {
public:
    explicit NewFile(const std::filesystem::path& target);
    ~NewFile();
    NewFile(const NewFile&) = delete;
    NewFile& operator=(const NewFile&) = delete;

    /// False after a failure, of this call or an earlier one.
    bool write(std::span<const std::uint8_t> bytes);
    bool write(std::string_view text);
    /// Gives the file its name, in place of an older one. Call once, last.
    [[nodiscard]] Result<Done> finish();

private:
    const std::filesystem::path named;  ///< as it was asked for
    const std::filesystem::path target; ///< where links lead
    const std::filesystem::path beside;
    std::FILE* stream = nullptr;
    bool made = false;
    bool failed = false;
};

} // namespace valveladder
