#pragma once

#include "Console/Tool.h"

#include <cstdint>
#include <span>
#include <string>

namespace valveladder::console {

/// "-o FILE"; "-" is standard output.
struct OutputOption {
    std::string path;
    bool inPlace = false; ///< may be the file that was read: an edit of it, asked for by the same name

    CLI::Option* add(CLI::App& app, const std::string& help);
    [[nodiscard]] bool toStandardOutput() const { return path == "-"; }
};

/// The whole file, or standard output. A Problem where the file is one that the command reads: what it was
/// given, or the log.
[[nodiscard]] Result<Done> deliver(Tool& tool, const OutputOption& output,
                                   std::span<const std::uint8_t> bytes);
[[nodiscard]] Result<Done> deliver(Tool& tool, const OutputOption& output, const std::string& text);

/// A text file of ours, at most a few megabytes.
[[nodiscard]] Result<std::string> readTextFile(const std::string& path);

} // namespace valveladder::console
