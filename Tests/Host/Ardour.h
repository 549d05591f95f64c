#pragma once

#include "Host/HostRig.h"

#include <filesystem>
#include <string>
#include <vector>

namespace valveladder::host {

/// A guide note as a sequencer recorded it.
struct RecordedNote {
    double quarter = 0.0; ///< from the start of the recording
    double quarters = 0.0;
    int pitch = 60;
    int velocity = 64;
};

[[nodiscard]] bool installed(const std::string& program);
[[nodiscard]] std::string readText(const std::filesystem::path& path);

/// Notes of all tracks of a Standard MIDI File on a channel (1, the guide's), in order.
[[nodiscard]] std::vector<RecordedNote> recordedNotes(const std::filesystem::path& file, int channel = 1);

/// MIDI files of a session whose name holds `part`, in order of name.
[[nodiscard]] std::vector<std::filesystem::path> recordings(const std::filesystem::path& session,
                                                            const std::string& part = "");

/// Ardour without a window, in a folder of its own.
class Ardour {
public:
    explicit Ardour(std::filesystem::path folder);

    /// Why the format cannot be tried in it; empty: it can.
    [[nodiscard]] static std::string missing(Format format);
    /// Runs ardour_matrix.lua with the built plugin of a format and these variables; its status is 0 and its
    /// last word DONE when all went well. What it said, or the scanner that does not know the plugin, is left
    /// in `said`.
    [[nodiscard]] bool play(Format format, std::vector<std::string> variables, std::string& said) const;
    [[nodiscard]] std::filesystem::path session() const { return place / "session"; }

private:
    /// Lets it find the built plugin. False with what its scanner said in `words`.
    [[nodiscard]] bool knows(Format format, std::string& words) const;
    [[nodiscard]] bool run(const std::vector<std::string>& variables, std::string& said) const;
    [[nodiscard]] std::string environment() const;

    std::filesystem::path place;
};

} // namespace valveladder::host
