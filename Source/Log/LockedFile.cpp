#include "Log/LockedFile.h"

#include "Log/SqlProblem.h"

#include <cerrno>
#include <cstdio>
#include <system_error>
#include <utility>

#if defined(_WIN32)
#include <windows.h>
#else
#include <fcntl.h>
#include <sys/file.h>
#include <sys/stat.h>
#include <unistd.h>
#endif

namespace valveladder {

namespace {

Problem failure(const char* action, const std::filesystem::path& path, int error) {
    return {std::string(action) + ": " + std::generic_category().message(error), pathText(path),
            "Free some space, or allow writing to the folder"};
}

#if defined(_WIN32)

int lastError() {
    return std::system_category().default_error_condition(static_cast<int>(GetLastError())).value();
}

void syncFolder(const std::filesystem::path&) {} // MOVEFILE_WRITE_THROUGH has done it

/// 0, or an errno; EEXIST where `to` is taken.
int moveUnlessThere(const std::filesystem::path& from, const std::filesystem::path& to) {
    return MoveFileExW(from.c_str(), to.c_str(), MOVEFILE_WRITE_THROUGH) != 0 ? 0 : lastError();
}

#else

/// A new name in a folder survives a power cut only when the folder is synchronised as well, fsync(2).
void syncFolder(const std::filesystem::path& path) {
    const int folder = ::open(path.parent_path().c_str(), O_RDONLY | O_DIRECTORY | O_CLOEXEC);
    if (folder < 0)
        return;
    fsync(folder);
    ::close(folder);
}

/// 0, or an errno; EEXIST where `to` is taken.
int moveUnlessThere(const std::filesystem::path& from, const std::filesystem::path& to) {
#if defined(__APPLE__)
    if (renamex_np(from.c_str(), to.c_str(), RENAME_EXCL) == 0)
        return 0;
#else
    if (renameat2(AT_FDCWD, from.c_str(), AT_FDCWD, to.c_str(), RENAME_NOREPLACE) == 0)
        return 0;
#endif
    if (errno != EINVAL && errno != ENOSYS && errno != ENOTSUP)
        return errno;
    // A file system that cannot do it in one step: a second name is never given to a taken one either.
    if (::link(from.c_str(), to.c_str()) != 0)
        return errno;
    ::unlink(from.c_str());
    return 0;
}

#endif

} // namespace

LockedFile::LockedFile(LockedFile&& other) noexcept
    : handle(std::exchange(other.handle, none)), place(std::move(other.place)) {}

LockedFile& LockedFile::operator=(LockedFile&& other) noexcept {
    std::swap(handle, other.handle);
    std::swap(place, other.place);
    return *this;
}

LockedFile::~LockedFile() {
    close();
}

bool LockedFile::remove() {
    std::error_code error;
#if defined(_WIN32)
    close();
    return std::filesystem::remove(place, error) && !error;
#else
    const bool removed =
        std::filesystem::remove(place, error) && !error; // while locked: nobody else adopts it
    close();
    return removed;
#endif
}

bool LockedFile::renameTo(const std::filesystem::path& path) {
    std::error_code error;
#if defined(_WIN32)
    close();
#endif
    std::filesystem::rename(place, path, error);
    close();
    return !error;
}

Result<bool> LockedFile::publish(const std::filesystem::path& path) {
    close(); // before it bears the name: on POSIX a close ends every lock that this process has on the file
    const int error = moveUnlessThere(place, path);
    if (error == 0) {
        syncFolder(path);
        return true;
    }
    std::error_code ignored;
    std::filesystem::remove(place, ignored);
    if (error == EEXIST)
        return false;
    return failure("the file cannot be given its name", path, error);
}

#if defined(_WIN32)

namespace {

constexpr DWORD noSharing = 0; // the lock: nobody else can open it
constexpr DWORD readWrite = GENERIC_READ | GENERIC_WRITE;

} // namespace

Result<LockedFile> LockedFile::create(const std::filesystem::path& path, Others others) {
    const DWORD sharing = others == Others::mayOpen ? FILE_SHARE_READ | FILE_SHARE_WRITE : noSharing;
    HANDLE file = CreateFileW(path.c_str(), readWrite, sharing, nullptr, CREATE_NEW, 0, nullptr);
    if (file == INVALID_HANDLE_VALUE)
        return failure("the file cannot be made", path, lastError());
    return LockedFile(file, path);
}

std::optional<LockedFile> LockedFile::takeOver(const std::filesystem::path& path) {
    HANDLE file = CreateFileW(path.c_str(), readWrite, noSharing, nullptr, OPEN_EXISTING, 0, nullptr);
    if (file == INVALID_HANDLE_VALUE)
        return std::nullopt;
    return LockedFile(file, path);
}

void LockedFile::close() {
    if (handle != none)
        CloseHandle(std::exchange(handle, none));
}

Result<Done> LockedFile::append(std::string_view bytes) {
    LARGE_INTEGER before{};
    SetFilePointerEx(handle, {}, &before, FILE_END);
    DWORD written = 0;
    const bool ok = WriteFile(handle, bytes.data(), static_cast<DWORD>(bytes.size()), &written, nullptr) &&
                    written == bytes.size() && FlushFileBuffers(handle);
    if (ok)
        return Done{};
    const int error = lastError();
    SetFilePointerEx(handle, before, nullptr, FILE_BEGIN);
    SetEndOfFile(handle);
    return failure("the file cannot be written", place, error);
}

Result<std::string> LockedFile::content() const {
    LARGE_INTEGER size{};
    GetFileSizeEx(handle, &size);
    SetFilePointerEx(handle, {}, nullptr, FILE_BEGIN);
    std::string text(static_cast<std::size_t>(size.QuadPart), '\0');
    DWORD count = 0;
    if (!ReadFile(handle, text.data(), static_cast<DWORD>(text.size()), &count, nullptr))
        return failure("the file cannot be read", place, lastError());
    text.resize(count);
    return text;
}

#else

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

Result<LockedFile> LockedFile::create(const std::filesystem::path& path, Others) {
    const int file = ::open(path.c_str(), O_RDWR | O_CREAT | O_EXCL | O_NOFOLLOW | O_CLOEXEC, 0600);
    if (file < 0)
        return failure("the file cannot be made", path, errno);
    LockedFile made(file, path);
    if (!lock(file) || !isStill(file, path)) // one who reads spill files back was quicker, and will delete it
        return failure("the file cannot be held", path, EBUSY);
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
        return failure("the file cannot be written, nor shortened", place, error);
    return failure("the file cannot be written", place, error);
}

Result<std::string> LockedFile::content() const {
    std::string text;
    char buffer[1 << 16];
    for (off_t offset = 0;;) {
        const ssize_t count = pread(handle, buffer, sizeof buffer, offset);
        if (count < 0 && errno == EINTR)
            continue;
        if (count < 0)
            return failure("the file cannot be read", place, errno);
        if (count == 0)
            return text;
        text.append(buffer, static_cast<std::size_t>(count));
        offset += count;
    }
}

#endif

} // namespace valveladder
