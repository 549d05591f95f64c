#pragma once

#include "Base/Problem.h"
#include "Records/TakeRecord.h"
#include "Score/Score.h"

#include <filesystem>
#include <optional>
#include <vector>

namespace valveladder {

/// A logged take whose kept sound is there, and where its notes lie in it.
struct PlayableTake {
    std::filesystem::path file;
    double seconds = 0.0;       ///< of the whole file
    std::vector<double> onsets; ///< seconds in the file, one for each note of the score, ascending
    std::vector<double> ends;   ///< when each note is over, seconds in the file

    /// The note that sounds at this time, or did last; 0 before the first.
    [[nodiscard]] std::size_t noteAt(double secondsInFile) const;
};

/// A part of a file to be heard.
struct PlayedPiece {
    std::filesystem::path file;
    double fromSeconds = 0.0;
    double toSeconds = 0.0;
    double gain = 1.0;
};

/// Why there is nothing to hear of the take, as far as its record tells; absent where sound was kept.
[[nodiscard]] std::optional<Problem> whyNoSound(const TakeRecord& take);

/// Finds a take's kept sound. A note that was heard begins where it was heard; one that was not lies between
/// its neighbours by the drill's own time. Preconditions: `score` is the take's, `folder` the log's. Fails in
/// words for the player where no sound was kept, or the file is gone or tells too little.
[[nodiscard]] Result<PlayableTake> playableTake(const TakeRecord& take, const Score& score,
                                                const std::filesystem::path& folder);

/// The take from a note on to its end, as loud as it was recorded.
[[nodiscard]] std::vector<PlayedPiece> pieceFrom(const PlayableTake& take, std::size_t note);

/// The same note's segment from the note on, of one take and then of the other, equally loud. Reads both
/// files for that, which takes a second for some minutes of sound: never on the message thread.
/// Precondition: both takes are of `score`.
[[nodiscard]] Result<std::vector<PlayedPiece>>
piecesInTurn(const PlayableTake& first, const PlayableTake& second, const Score& score, std::size_t note);

/// How loud a part of a file is while it sounds: rests do not count.
struct SoundLevel {
    double rms = 0.0; ///< of what lies at most 26 dB under the loudest 50 ms; full scale = 1
    double peak = 0.0;
};
[[nodiscard]] Result<SoundLevel> soundLevel(const PlayedPiece& piece);

} // namespace valveladder
