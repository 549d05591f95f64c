#pragma once

#include "Listening/SoundHearing.h"
#include "Score/Score.h"
#include "Tempo/TempoMap.h"

#include <optional>
#include <vector>

namespace valveladder {

/// Follows the player through the score from what is heard at each moment, for the screen: quick, and free to
/// be wrong; the verdict is SoundListener::finish's. Cost is bounded by the notes near the present place.
class ScoreFollower {
public:
    /// `tempo` and `startSeconds` (time of tick 0 in the sound) as far as known.
    ScoreFollower(const Score& followed, std::optional<TempoMap> tempo, std::optional<double> startSeconds);

    void hear(const HeardNow& now);
    /// Index into Score::notes of the note that sounds or sounded last; -1 before the first.
    [[nodiscard]] int index() const { return place; }

private:
    [[nodiscard]] double costOf(int candidate, double midi, double seconds) const;
    void moveTo(double midi, double seconds);

    const Score& score;
    std::vector<double> expectedSeconds; ///< empty when time is not known
    int place = -1;
    double steadyMidi = -1.0;
    int steadyFrames = 0;
    int silentFrames = 0;
    bool fresh = true; ///< silence or another pitch came since the last move
};

} // namespace valveladder
