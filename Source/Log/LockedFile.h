#pragma once

#include "Base/Problem.h"

#include <filesystem>
#include <optional>
#include <string>
#include <string_view>

namespace valveladder {

/// A file that one holder at a time writes. The lock ends with the holder, however it ends.
class LockedFile {
public:
    /// Whether others may open the file while it is held. Only Windows keeps them from it.
    enum class Others { shutOut, mayOpen };

    /// A new file, readable by its owner alone; a Problem when it cannot be made.
    [[nodiscard]] static Result<LockedFile> create(const std::filesystem::path& path,
                                                   Others others = Others::shutOut);
    /// An existing regular file of our own; nothing when another holds it, or it is none, or not ours.
    [[nodiscard]] static std::optional<LockedFile> takeOver(const std::filesystem::path& path);

    LockedFile(LockedFile&& other) noexcept;
    LockedFile& operator=(LockedFile&& other) noexcept;
    ~LockedFile();

    /// Returns when the bytes are on the disk. After a failure the file is as before.
    [[nodiscard]] Result<Done> append(std::string_view bytes);
    [[nodiscard]] Result<std::string> content() const;
    /// Deletes the file, or gives it another name, and lets go of it. False when that failed; it is let go of
    /// anyhow.
    bool remove();
    bool renameTo(const std::filesystem::path& path);
    /// Lets go of the file and gives it the name `path`, unless something bears that name: nothing is ever
    /// replaced. Returns whether it bears it now; where it does not, the file is deleted.
    [[nodiscard]] Result<bool> publish(const std::filesystem::path& path);

    [[nodiscard]] const std::filesystem::path& path() const { return place; }

private:
#if defined(_WIN32)
    using Handle = void*;
    static constexpr Handle none = nullptr;
#else
    using Handle = int;
    static constexpr Handle none = -1;
#endif
    LockedFile(Handle opened, std::filesystem::path where) : handle(opened), place(std::move(where)) {}
    void close();

    Handle handle = none;
    std::filesystem::path place;
};

} // namespace valveladder
