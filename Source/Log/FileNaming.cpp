#include "Log/FileNaming.h"

#include "Base/Path.h"

#include <system_error>

namespace valveladder {

Problem fileFailure(const char* action, const std::filesystem::path& path, int error) {
    return {std::string(action) + ": " + std::generic_category().message(error), pathText(path),
            "Free some space, or allow writing to the folder"};
}

} // namespace valveladder
