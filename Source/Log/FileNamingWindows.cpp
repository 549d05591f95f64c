#include "Log/FileNaming.h"

#include "Log/LastError.h"

#include <windows.h>

namespace valveladder {

void syncFolder(const std::filesystem::path&) {} // MOVEFILE_WRITE_THROUGH has done it

int moveUnlessThere(const std::filesystem::path& from, const std::filesystem::path& to) {
    return MoveFileExW(from.c_str(), to.c_str(), MOVEFILE_WRITE_THROUGH) != 0 ? 0 : lastErrno();
}

} // namespace valveladder
