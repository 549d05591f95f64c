#pragma once

#include "Ladder/PitchNames.h"
#include "Plugin/Playback.h"
#include "View/LogReader.h"

namespace valveladder {

/// Kept sound as the window asks for it: a take from a note, or two in turn. [message]
class TakePlayer {
public:
    /// `logFolder` is where the log lies, whose files name their sound relative to it.
    TakePlayer(Playback& output, std::filesystem::path logFolder);
    ~TakePlayer(); ///< ends the playing: nobody could stop it any more

    void play(const LoadedTake& take, std::size_t note, double slowness);
    void playInTurn(const LoadedTake& first, const LoadedTake& second, std::size_t note, double slowness);
    void stop();

    struct Shown {
        std::string words; ///< empty: nothing is going on
        bool playing = false;
        int note = -1; ///< that sounds now
    };
    [[nodiscard]] Shown shown(const PitchNames& names) const;

private:
    [[nodiscard]] std::optional<PlayableTake> find(const LoadedTake& take);
    void refuse(const Problem& problem);

    Playback& playback;
    const std::filesystem::path folder;
    std::vector<PlayableTake> takes; ///< that are played, in the order of the pieces
    std::vector<ScoreNote> notes;    ///< of their score
    std::string refusal;
};

} // namespace valveladder
