#include "Base/FileBytes.h"

#include "Base/Path.h"
#include "Base/System.h"
#include "Base/Uuid.h"

#include <fstream>
#include <system_error>
#include <utility>

namespace valveladder {

namespace fs = std::filesystem;

namespace {

Problem writeProblem(const fs::path& path, const std::string& why) {
    return {"the file cannot be written" + why, pathText(path),
            "check that the folder exists, may be written to, and that the disk is not full"};
}

/// The file that a chain of links names; `path` itself where it is none, or leads nowhere.
fs::path behindLinks(const fs::path& path) {
    std::error_code error;
    if (!fs::is_symlink(path, error))
        return path;
    const fs::path real = fs::weakly_canonical(path, error);
    return error ? path : real;
}

/// A name that no other file has: what else ends in ".part" is somebody's.
fs::path besideOf(const fs::path& target) {
    fs::path beside = target;
    beside += "." + newUuid().substr(0, 8) + ".part";
    return beside;
}

} // namespace

Result<std::vector<std::uint8_t>> readFileBytes(const fs::path& path, std::size_t maxBytes) {
    std::error_code error;
    if (!fs::exists(path, error))
        return Problem{"there is no such file", pathText(path), "check the path"};
    if (!fs::is_regular_file(path, error))
        return Problem{"this is not a file", pathText(path), "name a file, not a folder or device"};
    const auto size = fs::file_size(path, error);
    if (error)
        return Problem{"the file cannot be read (" + error.message() + ")", pathText(path),
                       "check its permissions"};
    if (size > maxBytes)
        return Problem{"the file has " + std::to_string(size) + " bytes, more than the " +
                           std::to_string(maxBytes) + " that are read",
                       pathText(path), "split it, or check that it is the right file"};
    std::vector<std::uint8_t> bytes(static_cast<std::size_t>(size));
    std::ifstream stream(path, std::ios::binary);
    stream.read(reinterpret_cast<char*>(bytes.data()), static_cast<std::streamsize>(bytes.size()));
    if (!stream)
        return Problem{"the file cannot be read", pathText(path), "check its permissions"};
    return bytes;
}

Result<Done> writeFileBytes(const fs::path& path, std::span<const std::uint8_t> bytes) {
    NewFile file(path);
    file.write(bytes);
    return file.finish();
}

NewFile::NewFile(const fs::path& path) : named(path), target(behindLinks(path)), beside(besideOf(target)) {
    std::error_code error;
    if (fs::exists(target, error) && !fs::is_regular_file(target, error))
        return; // finish() says so
    stream = openNew(beside);
    made = stream != nullptr;
}

NewFile::~NewFile() {
    if (stream != nullptr)
        std::fclose(stream);
    std::error_code ignored;
    if (made)
        fs::remove(beside, ignored);
}

bool NewFile::write(std::span<const std::uint8_t> bytes) {
    failed =
        failed || stream == nullptr || std::fwrite(bytes.data(), 1, bytes.size(), stream) != bytes.size();
    return !failed;
}

bool NewFile::write(std::string_view text) {
    return write(std::span(reinterpret_cast<const std::uint8_t*>(text.data()), text.size()));
}

Result<Done> NewFile::finish() {
    std::error_code error;
    if (fs::exists(target, error) && !fs::is_regular_file(target, error))
        return Problem{"this is not a file", pathText(named), "name a file, not a folder or device"};
    if (stream == nullptr)
        return writeProblem(named, "");
    failed = std::fclose(std::exchange(stream, nullptr)) != 0 || failed;
    if (failed)
        return writeProblem(named, " in full");
    fs::rename(beside, target, error);
    if (error)
        return writeProblem(named, " (" + error.message() + ")");
    made = false;
    return Done{};
}

} // namespace valveladder
