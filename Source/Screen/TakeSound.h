#pragma once

#include "Screen/LandingPlace.h"
#include "Screen/StairPlace.h"
#include "Screen/TakePlayer.h"
#include "Screen/WindowPlace.h"

namespace valveladder {

/// Kept sound as the places show it: a take after it was played, two in turn where they lie side by side.
class TakeSound {
public:
    TakeSound(Playback& output, LandingPlace& afterTake, StairPlace& overWeeks);

    /// Says what is played at the place that is shown. `names`: of the takes' notes.
    void refresh(WindowPlace place, const PitchNames& names);
    /// Plays or stops what the place has; false where it has no sound.
    bool toggle(WindowPlace place);
    void stop() { player.stop(); }

private:
    [[nodiscard]] PlayStrip* stripOf(WindowPlace place) const;
    /// Why there is nothing to hear of what the place shows.
    [[nodiscard]] std::optional<Problem> whySilent(WindowPlace place) const;
    void playTake(int note);
    void playSides(int note);

    LandingPlace& landing;
    StairPlace& stair;
    TakePlayer player;
};

} // namespace valveladder
