#pragma once

#include "Base/Path.h"

#include <algorithm>
#include <array>
#include <cstdint>
#include <filesystem>
#include <span>
#include <string>
#include <string_view>

/// Which kind of file it is, by how its name ends, in small letters or capitals alike, or by how it begins.
namespace valveladder {

inline constexpr std::array<std::string_view, 3> smfEndings{".mid", ".midi", ".smf"};
inline constexpr std::string_view mxlEnding = ".mxl"; ///< compressed MusicXML
inline constexpr std::array<std::string_view, 3> musicXmlEndings{".musicxml", ".xml", mxlEnding};
/// Of sound that can be read.
inline constexpr std::array<std::string_view, 9> soundEndings{".wav",  ".wave", ".aif",  ".aiff", ".aifc",
                                                              ".flac", ".w64",  ".rf64", ".caf"};
/// A Standard MIDI File's first four bytes (Standard MIDI Files 1.1, "Header Chunks").
inline constexpr std::string_view smfStart = "MThd";

/// What a name ends in, from its last dot, in small letters: ".mid"; "" where it has none.
[[nodiscard]] inline std::string endingOf(const std::filesystem::path& path) {
    std::string ending = pathText(path.extension());
    for (char& c : ending)
        if (c >= 'A' && c <= 'Z')
            c = static_cast<char>(c - 'A' + 'a');
    return ending;
}

/// Whether a name ends in one of these, which are in small letters.
[[nodiscard]] inline bool hasEnding(const std::filesystem::path& path,
                                    std::span<const std::string_view> endings) {
    return std::ranges::find(endings, endingOf(path)) != endings.end();
}

[[nodiscard]] inline bool hasSmfName(const std::filesystem::path& path) {
    return hasEnding(path, smfEndings);
}

/// Plain or compressed.
[[nodiscard]] inline bool hasMusicXmlName(const std::filesystem::path& path) {
    return hasEnding(path, musicXmlEndings);
}

[[nodiscard]] inline bool hasMxlName(const std::filesystem::path& path) {
    return endingOf(path) == mxlEnding;
}

[[nodiscard]] inline bool hasSoundName(const std::filesystem::path& path) {
    return hasEnding(path, soundEndings);
}

[[nodiscard]] inline bool beginsAsSmf(std::span<const std::uint8_t> bytes) {
    return bytes.size() >= smfStart.size() && std::equal(smfStart.begin(), smfStart.end(), bytes.begin());
}

/// Names that a chooser of files is to show: "*.mid;*.midi".
[[nodiscard]] inline std::string namePatterns(std::span<const std::string_view> endings) {
    std::string patterns;
    for (const std::string_view ending : endings)
        patterns.append(patterns.empty() ? "*" : ";*").append(ending);
    return patterns;
}

} // namespace valveladder
