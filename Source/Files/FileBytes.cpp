#include "Files/FileBytes.h"

#include <fstream>
#include <system_error>

namespace valveladder {

namespace fs = std::filesystem;

namespace {

Problem writeProblem(const fs::path& path, const std::string& why) {
    return {"the file cannot be written" + why, path.string(),
            "check that the folder exists, may be written to, and that the disk is not full"};
}

} // namespace

Result<std::vector<std::uint8_t>> readFileBytes(const fs::path& path, std::size_t maxBytes) {
    std::error_code error;
    if (!fs::exists(path, error))
        return Problem{"there is no such file", path.string(), "check the path"};
    if (!fs::is_regular_file(path, error))
        return Problem{"this is not a file", path.string(), "name a file, not a folder or device"};
    const auto size = fs::file_size(path, error);
    if (error)
        return Problem{"the file cannot be read (" + error.message() + ")", path.string(),
                       "check its permissions"};
    if (size > maxBytes)
        return Problem{"the file has " + std::to_string(size) + " bytes, more than the " +
                           std::to_string(maxBytes) + " that are read",
                       path.string(), "split it, or check that it is the right file"};
    std::vector<std::uint8_t> bytes(static_cast<std::size_t>(size));
    std::ifstream stream(path, std::ios::binary);
    stream.read(reinterpret_cast<char*>(bytes.data()), static_cast<std::streamsize>(bytes.size()));
    if (!stream)
        return Problem{"the file cannot be read", path.string(), "check its permissions"};
    return bytes;
}

Result<Done> writeFileBytes(const fs::path& path, std::span<const std::uint8_t> bytes) {
    std::error_code error;
    if (fs::exists(path, error) && !fs::is_regular_file(path, error))
        return Problem{"this is not a file", path.string(), "name a file, not a folder or device"};
    fs::path beside = path;
    beside += ".part";
    std::ofstream stream(beside, std::ios::binary | std::ios::trunc);
    if (!stream)
        return writeProblem(path, "");
    stream.write(reinterpret_cast<const char*>(bytes.data()), static_cast<std::streamsize>(bytes.size()));
    stream.close();
    if (!stream) {
        fs::remove(beside, error);
        return writeProblem(path, " in full");
    }
    fs::rename(beside, path, error);
    if (error) {
        const std::string why = " (" + error.message() + ")";
        fs::remove(beside, error);
        return writeProblem(path, why);
    }
    return Done{};
}

} // namespace valveladder
