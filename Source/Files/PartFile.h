#pragma once

#include "Files/MusicXml.h"
#include "Files/Smf.h"
#include "Music/Marking.h"
#include "Valves/Instrument.h"

#include <filesystem>
#include <optional>
#include <string>
#include <vector>

namespace valveladder {

/// A player's music in a file, MusicXML (plain or .mxl) or MIDI: what it offers, and one line of it.
class PartFile {
public:
    /// The problem names the path.
    [[nodiscard]] static Result<PartFile> open(const std::filesystem::path& path);

    [[nodiscard]] const std::string& name() const { return path; }
    [[nodiscard]] const std::string& title() const { return heading; } ///< "" where the file has none
    [[nodiscard]] const std::vector<PartInfo>& parts() const { return infos; }
    /// The one part that holds notes, from 0; nothing where there are several, or none.
    [[nodiscard]] std::optional<int> onlyPart() const;
    /// The document; null for a MIDI file.
    [[nodiscard]] const MusicXmlFile* musicXml() const { return document ? &*document : nullptr; }

    struct Line {
        Part part;
        /// What was left out or chosen, in words.
        std::vector<std::string> remarks;
        bool bySound =
            false; ///< the part is for an instrument in another key: written pitch is by what sounds
    };
    /// One line, for `instrument`: where the part sounds otherwise than the instrument, its written pitches
    /// are made those that sound the same on it, unless `asWritten`. Refused: a line without notes.
    [[nodiscard]] Result<Line> read(const PartChoice& choice, const Instrument& instrument,
                                    bool asWritten) const;

private:
    std::string path;
    std::string heading;
    std::vector<PartInfo> infos;
    std::optional<MusicXmlFile> document; ///< one of the two is there
    std::optional<SmfFile> midi;
};

/// Notes of a part in all its voices.
[[nodiscard]] int notesIn(const PartInfo& part);

/// One mark for each note of the file: of one that is played several times, as the first time. The words are
/// those of the spots that begin at the note.
[[nodiscard]] std::vector<NoteMark> noteMarks(const Part& part, const Marking& marking,
                                              std::span<const Spot> spots, const Instrument& instrument);

} // namespace valveladder
