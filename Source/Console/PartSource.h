#pragma once

#include "Console/Tool.h"
#include "Files/MusicXml.h"
#include "Music/Part.h"
#include "Valves/Instrument.h"

#include <optional>
#include <string>
#include <vector>

namespace valveladder::console {

/// A player's music on the command line: a MusicXML or MIDI file, and which line of it.
struct PartSource {
    std::string file;
    std::optional<int> part; ///< from 1; unset = the only one with notes
    std::string voice;
    bool lowest = false;  ///< of chords
    bool printed = false; ///< repeats not unrolled
    bool noGrace = false;
    bool asWritten = false; ///< fingered as it stands, whatever it sounds

    void add(CLI::App& app);

    struct Opened {
        std::optional<MusicXmlFile> musicXml; ///< nothing for a MIDI file
        std::string title;
        std::vector<PartInfo> parts;
        std::optional<int> only; ///< the one part with notes, from 0
        Part line;               ///< of the part asked for
        int index = 0;           ///< which part that is, from 0
        std::vector<std::string> remarks;
    };
    /// The file and what it offers; the line is not read.
    [[nodiscard]] Result<Opened> open() const;
    /// The line asked for, its written pitch that of `instrument` where the part is for another one.
    [[nodiscard]] Result<Opened> read(const Instrument& instrument) const;

private:
    [[nodiscard]] PartChoice choice(int index) const;
};

/// The parts of a file with their voices, for choosing one.
void printParts(Tool& tool, const PartSource::Opened& opened);
[[nodiscard]] Json partsJson(const PartSource::Opened& opened);

} // namespace valveladder::console
