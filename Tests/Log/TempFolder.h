#pragma once

#include "Base/Uuid.h"

#include <filesystem>
#include <string>

namespace valveladder {

/// A folder of a test's own, gone with it.
class TempFolder {
public:
    TempFolder() : folder(std::filesystem::temp_directory_path() / ("log test " + newUuid())) {
        std::filesystem::create_directories(folder);
    }
    ~TempFolder() {
        std::error_code ignored;
        std::filesystem::remove_all(folder, ignored);
    }
    TempFolder(const TempFolder&) = delete;
    TempFolder& operator=(const TempFolder&) = delete;

    [[nodiscard]] const std::filesystem::path& path() const { return folder; }
    [[nodiscard]] std::filesystem::path operator/(const std::string& name) const { return folder / name; }

private:
    std::filesystem::path folder;
};

} // namespace valveladder
