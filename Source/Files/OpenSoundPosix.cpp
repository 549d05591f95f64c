#include "Files/OpenSound.h"

namespace valveladder {

SNDFILE* openSound(const std::filesystem::path& path, int mode, SF_INFO* info) {
    return sf_open(path.c_str(), mode, info);
}

} // namespace valveladder
