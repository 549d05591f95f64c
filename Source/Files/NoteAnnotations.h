#pragma once

#include "Base/Problem.h"

#include <filesystem>
#include <string>
#include <string_view>
#include <vector>

namespace valveladder {

/// A note that somebody marked in a recording.
struct AnnotatedNote {
    double onset = 0.0;  ///< seconds from the start of the recording
    double offset = 0.0; ///< seconds, > onset
    double midi = 0.0;   ///< sounding pitch, fractional MIDI number, A4 = 440 Hz = 69

    bool operator==(const AnnotatedNote&) const = default;
};

/// Notes from CSV text, sorted by onset. Separators: comma, semicolon or tab (the first line decides). With a
/// head line the columns are found by name: onset, start, start_sec or t_start; offset, end, end_sec or
/// t_end, else duration, dur or dur_sec; pitch, midi, note or, in Hz, frequency, freq, hz or f0. Without one
/// they are onset, offset, pitch. A pitch is a MIDI number or a name such as "F#3". Empty lines and lines
/// that begin with '#' are passed over. Notes of pitch 0 are rests and left out.
/// Fails, naming the line, on what is no number, on times or pitches out of range (0 to 24 hours, MIDI 0 to
/// 127), and where there is no note.
[[nodiscard]] Result<std::vector<AnnotatedNote>> readAnnotations(std::string_view text);

/// The same from a file of at most 16 MiB; problems name the path.
[[nodiscard]] Result<std::vector<AnnotatedNote>> readAnnotationFile(const std::filesystem::path& path);

/// A recording with the file that annotates it.
struct AnnotatedRecording {
    std::filesystem::path sound;
    std::filesystem::path notes;
};

/// All recordings under `folder` (any depth) beside which, or under which, an annotation lies: NAME.csv or
/// NAME_notes.csv for NAME.wav or another sound (hasSoundName); of several the one in the nearest folder.
/// Sorted by path. Fails when the folder cannot be read or holds none.
[[nodiscard]] Result<std::vector<AnnotatedRecording>>
annotatedRecordings(const std::filesystem::path& folder);

} // namespace valveladder
