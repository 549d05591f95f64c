#include "View/Shelf.h"

#include "Base/FileBytes.h"
#include "Base/Path.h"
#include "Log/LogStore.h"
#include "View/Words.h"

#include <algorithm>
#include <fstream>
#include <sstream>

namespace valveladder {

namespace {

constexpr std::size_t longestName = 100;
constexpr std::uintmax_t mostBytes = 16U << 20U;

bool usable(const std::string& name) {
    return !name.empty() && name.size() <= longestName && name.front() != '.' &&
           name.find_first_of("/\\:*?\"<>|") == std::string::npos &&
           std::none_of(name.begin(), name.end(), [](char c) { return static_cast<unsigned char>(c) < 32; });
}

} // namespace

std::filesystem::path shelfFolder() {
    return defaultLogPath().parent_path() / "set-ups";
}

Shelf::Shelf(std::filesystem::path folder) : place(std::move(folder)) {}

std::vector<std::string> Shelf::names() const {
    std::vector<std::string> found;
    std::error_code failed;
    for (const auto& entry : std::filesystem::directory_iterator(place, failed))
        if (entry.path().extension() == extension)
            found.push_back(pathText(entry.path().stem()));
    std::sort(found.begin(), found.end());
    return found;
}

Result<Done> Shelf::keep(const std::string& name, const std::string& text) const {
    if (!usable(name))
        return Problem{words::notAName(name), words::setupWhere, words::nameRule};
    std::error_code failed;
    std::filesystem::create_directories(place, failed);
    return writeFile(place / pathOf(name + extension), text);
}

Result<std::string> Shelf::text(const std::string& name) const {
    return readFile(place / pathOf(name + extension));
}

Result<std::string> Shelf::readFile(const std::filesystem::path& path) {
    std::error_code failed;
    const auto size = std::filesystem::file_size(path, failed);
    if (failed)
        return Problem{words::setupUnreadable, pathText(path), words::chooseThere};
    if (size > mostBytes)
        return Problem{words::setupTooLarge, pathText(path), words::chooseSetup};
    std::ifstream file(path, std::ios::binary);
    std::ostringstream text;
    text << file.rdbuf();
    if (!file)
        return Problem{words::setupUnreadable, pathText(path), words::chooseReadable};
    return text.str();
}

Result<Done> Shelf::writeFile(const std::filesystem::path& path, const std::string& text) {
    const auto bytes = std::span(reinterpret_cast<const std::uint8_t*>(text.data()), text.size());
    if (!writeFileBytes(path, bytes))
        return Problem{words::fileNotWritten, pathText(path), words::otherRoomyFolder};
    return Done{};
}

} // namespace valveladder
