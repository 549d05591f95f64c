#include "Log/FileNaming.h"
#include "Log/LockedFile.h"

#include <cerrno>
#include <fcntl.h>
#include <sys/file.h>
#include <sys/stat.h>
#include <system_error>
#include <unistd.h>
#include <utility>

namespace valveladder {

namespace {

/// False when the file was deleted or replaced between opening and locking, or is another user's.
bool isStill(int file, const std::filesystem::path& path) {
    struct stat open {};
    struct stat named {};
    return fstat(file, &open) == 0 && lstat(path.c_str(), &named) == 0 && S_ISREG(named.st_mode) &&
           open.st_dev == named.st_dev && open.st_ino == named.st_ino && open.st_uid == geteuid();
}

bool lock(int file) {
    return flock(file, LOCK_EX | LOCK_NB) == 0;
}

bool writeAll(int file, std::string_view bytes) {
    while (!bytes.empty()) {
        const ssize_t count = ::write(file, bytes.data(), bytes.size());
        if (count < 0 && errno == EINTR)
            continue;
        if (count <= 0)
            return false;
        bytes.remove_prefix(static_cast<std::size_t>(count));
    }
    return true;
}

} // namespace

bool LockedFile::remove() {
    std::error_code error;
    // While locked: nobody else adopts it.
    const bool removed = std::filesystem::remove(place, error) && !error;
    close();
    return removed;
}

bool LockedFile::renameTo(const std::filesystem::path& path) {
    std::error_code error;
    std::filesystem::rename(place, path, error);
    close();
    return !error;
}

Result<LockedFile> LockedFile::create(const std::filesystem::path& path, Others) {
    const int file = ::open(path.c_str(), O_RDWR | O_CREAT | O_EXCL | O_NOFOLLOW | O_CLOEXEC, 0600);
    if (file < 0)
        return fileFailure("the file cannot be made", path, errno);
    LockedFile made(file, path);
    if (!lock(file) || !isStill(file, path)) // one who reads spill files back was quicker, and will delete it
        return fileFailure("the file cannot be held", path, EBUSY);
    syncFolder(path);
    return made;
}

std::optional<LockedFile> LockedFile::takeOver(const std::filesystem::path& path) {
    // Never waits, whatever lies there (a named pipe would).
    const int file = ::open(path.c_str(), O_RDWR | O_NOFOLLOW | O_NONBLOCK | O_CLOEXEC);
    if (file < 0)
        return std::nullopt;
    LockedFile found(file, path);
    if (!lock(file) || !isStill(file, path))
        return std::nullopt;
    return found;
}

void LockedFile::close() {
    if (handle != none)
        ::close(std::exchange(handle, none));
}

Result<Done> LockedFile::append(std::string_view bytes) {
    const off_t before = lseek(handle, 0, SEEK_END);
    if (before >= 0 && writeAll(handle, bytes) && fsync(handle) == 0)
        return Done{};
    const int error = errno;
    if (before >= 0 && ftruncate(handle, before) != 0)
        return fileFailure("the file cannot be written, nor shortened", place, error);
    return fileFailure("the file cannot be written", place, error);
}

Result<std::string> LockedFile::content() const {
    std::string text;
    char buffer[1 << 16];
    for (off_t offset = 0;;) {
        const ssize_t count = pread(handle, buffer, sizeof buffer, offset);
        if (count < 0 && errno == EINTR)
            continue;
        if (count < 0)
            return fileFailure("the file cannot be read", place, errno);
        if (count == 0)
            return text;
        text.append(buffer, static_cast<std::size_t>(count));
        offset += count;
    }
}

} // namespace valveladder
