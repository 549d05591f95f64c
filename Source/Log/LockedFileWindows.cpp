#include "Log/FileNaming.h"
#include "Log/LastError.h"
#include "Log/LockedFile.h"

#include <windows.h>

#include <system_error>
#include <utility>

namespace valveladder {

namespace {

constexpr DWORD noSharing = 0; // the lock: nobody else can open it
constexpr DWORD readWrite = GENERIC_READ | GENERIC_WRITE;

} // namespace

bool LockedFile::remove() {
    std::error_code error;
    close();
    return std::filesystem::remove(place, error) && !error;
}

bool LockedFile::renameTo(const std::filesystem::path& path) {
    std::error_code error;
    close();
    std::filesystem::rename(place, path, error);
    return !error;
}

Result<LockedFile> LockedFile::create(const std::filesystem::path& path, Others others) {
    const DWORD sharing = others == Others::mayOpen ? FILE_SHARE_READ | FILE_SHARE_WRITE : noSharing;
    HANDLE file = CreateFileW(path.c_str(), readWrite, sharing, nullptr, CREATE_NEW, 0, nullptr);
    if (file == INVALID_HANDLE_VALUE)
        return fileFailure("the file cannot be made", path, lastErrno());
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
    const int error = lastErrno();
    SetFilePointerEx(handle, before, nullptr, FILE_BEGIN);
    SetEndOfFile(handle);
    return fileFailure("the file cannot be written", place, error);
}

Result<std::string> LockedFile::content() const {
    LARGE_INTEGER size{};
    GetFileSizeEx(handle, &size);
    SetFilePointerEx(handle, {}, nullptr, FILE_BEGIN);
    std::string text(static_cast<std::size_t>(size.QuadPart), '\0');
    DWORD count = 0;
    if (!ReadFile(handle, text.data(), static_cast<DWORD>(text.size()), &count, nullptr))
        return fileFailure("the file cannot be read", place, lastErrno());
    text.resize(count);
    return text;
}

} // namespace valveladder
