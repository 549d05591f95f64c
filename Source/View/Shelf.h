#pragma once

#include "Base/Problem.h"

#include <filesystem>
#include <string>
#include <vector>

namespace valveladder {

/// Set-ups kept by name: one file each, in the folder "set-ups" beside the log. Such a file can be sent to
/// someone else and opened there.
class Shelf {
public:
    explicit Shelf(std::filesystem::path folder);

    /// Names, sorted.
    [[nodiscard]] std::vector<std::string> names() const;
    /// Keeps the text of a set-up (Plugin/State.h), over an older one of that name. Refused: a name that is
    /// empty, longer than 100 bytes, or holds what file systems refuse.
    [[nodiscard]] Result<Done> keep(const std::string& name, const std::string& text) const;
    [[nodiscard]] Result<std::string> text(const std::string& name) const;
    [[nodiscard]] static Result<std::string> readFile(const std::filesystem::path& path);
    [[nodiscard]] static Result<Done> writeFile(const std::filesystem::path& path, const std::string& text);

    static constexpr const char* extension = ".valveladder";

private:
    std::filesystem::path place;
};

[[nodiscard]] std::filesystem::path shelfFolder();

} // namespace valveladder
