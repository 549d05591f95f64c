#pragma once

#include "Listening/HeardNote.h"
#include "Score/Score.h"

#include <optional>
#include <span>

namespace valveladder {

/// Where the score lies in the sound: seconds = startSeconds + quarters * secondsPerQuarter.
struct ScorePlace {
    double startSeconds = 0.0;
    double secondsPerQuarter = 0.5;
    int votes = 0; ///< notes that agree

    bool operator==(const ScorePlace&) const = default;
};

/// Finds the tempo and the start of the score in heard notes by vote: runs of notes whose pitches (less
/// `tuningSemitones`) equal a run of the score's within one segment each vote for a tempo; then every note
/// that lies in such a run votes for a start. With `knownSecondsPerQuarter` only the start is sought. Looks
/// at no more than the first maxNotesForTempo heard notes. Nothing when no run agrees.
[[nodiscard]] std::optional<ScorePlace> findPlace(std::span<const HeardNote> notes, const Score& score,
                                                  double tuningSemitones,
                                                  std::optional<double> knownSecondsPerQuarter);

inline constexpr int maxNotesForTempo = 400;

} // namespace valveladder
