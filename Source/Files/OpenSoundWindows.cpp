#include <windows.h>

#define ENABLE_SNDFILE_WINDOWS_PROTOTYPES 1
#include "Files/OpenSound.h"

namespace valveladder {

SNDFILE* openSound(const std::filesystem::path& path, int mode, SF_INFO* info) {
    return sf_wchar_open(path.c_str(), mode, info);
}

} // namespace valveladder
