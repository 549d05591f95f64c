#pragma once

#include "Console/AssessTake.h"

#include <string>
#include <vector>

namespace valveladder::console {

/// What became of one file: assessed, or a problem.
struct FileAssessed {
    std::string file;
    std::optional<Assessed> assessed;
    std::optional<Problem> problem; ///< of hearing, or of keeping when `assessed` is there too
    bool kept = false;
};

/// The takes in a folder, MIDI and sound by their names, sorted. Fails when there is none.
[[nodiscard]] Result<std::vector<std::string>> takeFiles(const std::string& folder);

/// Hears each file by the same options, several at a time; in the order given. Progress goes to standard
/// error.
[[nodiscard]] std::vector<FileAssessed> assessFiles(const Tool& tool, const std::vector<std::string>& files,
                                                    const AssessOptions& options, int workers);

/// Puts every take that was heard into the log; sets `kept` or `problem`.
void keepAll(const AssessOptions& options, std::vector<FileAssessed>& files);

/// A line for each file, within 80 columns but for long names, or JSON; problems are warned of.
void printFiles(Tool& tool, const std::vector<FileAssessed>& files);

} // namespace valveladder::console
