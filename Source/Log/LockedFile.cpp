#include "Log/LockedFile.h"

#include "Log/FileNaming.h"

#include <cerrno>
#include <system_error>
#include <utility>

namespace valveladder {

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
    return fileFailure("the file cannot be given its name", path, error);
}

} // namespace valveladder
