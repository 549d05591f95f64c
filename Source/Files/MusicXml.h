#pragma once

#include "Base/Problem.h"
#include "Music/Part.h"

#include <cstdint>
#include <filesystem>
#include <memory>
#include <span>
#include <string>
#include <vector>

namespace valveladder {

/// What is written beside a note of the file.
struct NoteMark {
    int source = 0;        ///< PartNote::source
    std::string fingering; ///< "1-3"; empty = none
    std::string words;     ///< over the note; empty = none

    bool operator==(const NoteMark&) const = default;
};

/// How a document is written: as it came, as plain XML, or compressed.
enum class MusicXmlForm { asRead, plain, compressed };

/// A MusicXML document (versions 1 to 4, partwise or timewise, plain or .mxl) as its whole tree, so that what
/// we do not understand is kept. External entities are never fetched; documents that declare entities are
/// refused, as are archives and documents over maxMusicXmlBytes.
class MusicXmlFile {
public:
    [[nodiscard]] static Result<MusicXmlFile> read(std::span<const std::uint8_t> bytes);
    [[nodiscard]] static Result<MusicXmlFile> readFile(const std::filesystem::path& path);

    MusicXmlFile(MusicXmlFile&&) noexcept;
    MusicXmlFile& operator=(MusicXmlFile&&) noexcept;
    ~MusicXmlFile();

    [[nodiscard]] std::string title() const;
    [[nodiscard]] std::vector<PartInfo> parts() const;

    /// One line of the piece. Cue and unpitched notes are left out, of chords one note is taken; remarks say
    /// so. Refused: a part that does not exist, durations that do not fit their divisions.
    [[nodiscard]] Result<Part> part(const PartChoice& choice) const;

    /// The file with marks on notes of part `part`: fingerings as technical notations, words as directions.
    /// Nothing else of the tree changes. A .mxl that stays one keeps its other entries.
    [[nodiscard]] Result<std::vector<std::uint8_t>> marked(int part, std::span<const NoteMark> marks,
                                                           MusicXmlForm form = MusicXmlForm::asRead) const;

private:
    struct Content;
    explicit MusicXmlFile(std::unique_ptr<Content> read);
    std::unique_ptr<Content> content;
};

} // namespace valveladder
