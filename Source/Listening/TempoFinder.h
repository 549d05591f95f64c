#pragma once

#include "Listening/HeardNote.h"
#include "Score/Score.h"

#include <optional>
#include <span>
#include <vector>

namespace valveladder {

/// Where the score lies in the sound: seconds = startSeconds + quarters * secondsPerQuarter.
struct ScorePlace {
    double startSeconds = 0.0;
    double secondsPerQuarter = 0.5;
    int agreeing = 0;  ///< heard notes that are where the score has them
    double cost = 0.0; ///< of matching all of the take there; a missed or an extra note costs 1

    bool operator==(const ScorePlace&) const = default;
};

/// What of the place is known beforehand; seconds in the sound.
struct KnownPlace {
    std::optional<double> secondsPerQuarter;
    std::optional<double> startSeconds;
};

struct PlaceSearch {
    std::optional<ScorePlace> place;  ///< nothing where no reading is far better than all others
    std::vector<ScorePlace> readings; ///< the two best, best first; fewer where there are none
};

/// Finds the tempo and the start of the score in heard notes by the whole of both: segments differ in rhythm,
/// rungs in pitch. Every run of notes whose pitches (less `tuningSemitones`) and rhythm equal a run of one
/// segment proposes a place; it is fitted to ever more of the take's notes that agree with it; the proposals
/// with which most agree are matched in full, and the best is taken if it fits and is far better than the
/// next that puts the notes elsewhere. Looks at no more than the first maxNotesForTempo heard notes.
[[nodiscard]] PlaceSearch findPlace(std::span<const HeardNote> notes, const Score& score,
                                    double tuningSemitones, const KnownPlace& known = {});

inline constexpr int maxNotesForTempo = 600;

} // namespace valveladder
