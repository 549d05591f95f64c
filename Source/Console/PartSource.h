#pragma once

#include "Console/Tool.h"
#include "Files/PartFile.h"
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
        PartFile file;
        Part line;     ///< of the part asked for
        int index = 0; ///< which part that is, from 0
        std::vector<std::string> remarks;
    };
    /// The line asked for, its written pitch that of `instrument` where the part is for another one.
    [[nodiscard]] Result<Opened> read(const Instrument& instrument) const;
    /// The same line of what was opened, as its file prints it: each bar once, with its repeat signs.
    [[nodiscard]] Result<Part> written(const Opened& opened, const Instrument& instrument) const;

private:
    [[nodiscard]] PartChoice choice(int index) const;
};

/// The parts of a file with their voices, for choosing one.
void printParts(Tool& tool, const PartFile& file);
[[nodiscard]] Json partsJson(const PartFile& file);

} // namespace valveladder::console
