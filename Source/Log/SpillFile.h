#pragma once

#include "Log/LockedFile.h"
#include "Records/TakeRecord.h"

#include <filesystem>
#include <optional>
#include <string>
#include <variant>
#include <vector>

namespace valveladder {

/// A line of a spill file: something that the log could not take down.
struct DroppedTake {
    std::string id;
};
using SpillLine = std::variant<TakeHeader, TakeRecord, DroppedTake>; ///< begun, finished, dropped

[[nodiscard]] std::string spillText(const SpillLine& line); ///< one line of JSON, without its end
[[nodiscard]] Result<SpillLine> spillLineFrom(const std::string& text);

/// The file beside the log in which what the log cannot take waits: one JSON document a line. Each holder has
/// its own; those whose holder is gone are taken over by the next that starts.
class SpillFile {
public:
    explicit SpillFile(std::filesystem::path logPath);

    /// Lines left by holders that are gone, in order. Their files stay until clear(). A last line without an
    /// end was never promised to anybody and is dropped; other lines that cannot be read are counted, and
    /// their file is kept under another name.
    [[nodiscard]] std::vector<SpillLine> takeOver();

    /// Returns when the line is on the disk: beside the log, else in the system's temporary folder.
    [[nodiscard]] Result<Done> append(const SpillLine& line);

    /// Everything has landed in the log: the files go.
    void clear();

    /// Where lines are, or would be, written.
    [[nodiscard]] std::filesystem::path path() const;
    [[nodiscard]] int unreadable() const { return unreadableLines; }

private:
    struct TakenOver {
        LockedFile file;
        bool keep = false; ///< holds lines that we cannot read
    };

    [[nodiscard]] std::vector<std::filesystem::path> folders() const;
    [[nodiscard]] std::string stem() const; ///< how the names of all spill files of this log begin
    void readLines(TakenOver& source, std::vector<SpillLine>& lines);

    std::filesystem::path log;
    std::string ownName;
    std::optional<LockedFile> own;
    std::vector<TakenOver> takenOver;
    int unreadableLines = 0;
};

} // namespace valveladder
