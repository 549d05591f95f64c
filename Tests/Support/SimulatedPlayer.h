#pragma once

#include "Findings/Evidence.h"
#include "Findings/Suspect.h"

#include <cstdint>
#include <random>
#include <vector>

namespace valveladder::simulated {

/// A weakness planted in a player.
struct Weak {
    Suspect suspect;
    double extraMs = 25.0;
};

/// Human spread. A changeover lasts as long as its slowest finger; nothing else differs between changes.
struct Spread {
    double changeoverMs = 70.0; ///< of every finger without weakness
    double changeoverSdMs = 15.0;
    double onsetSdMs = 12.0;
    double takeSdMs = 8.0;       ///< each take's own shift, of changeovers and of onsets
    double effectSd = 1.0 / 3.0; ///< of each weakness from take to take, as a share of it
    double asynchronyMs = -20.0;
    double errorShare = 0.01;       ///< of notes: half wrong, half missed
    double lateShare = 0.0;         ///< share of the extra time that makes the note late as well
    double tiringMsPerMinute = 0.0; ///< added to every changeover with the minutes played
};

/// An invented player: a pure function of what is planted and the seed.
class Player {
public:
    Player(std::vector<Weak> weaknesses, Spread human, std::uint64_t seed);

    /// One take, all notes in it, measured as a listener to sound would: fillMeasures has run.
    [[nodiscard]] Performance play(const Drill& drill, const Instrument& instrument, const Score& score,
                                   double minutesPlayed = 0.0);

    /// The extra of each weakness in the take played last, ms.
    [[nodiscard]] const std::vector<double>& lastExtras() const { return extras; }

private:
    double normal(double sd) { return sd * gauss(random); }

    std::vector<Weak> weak;
    Spread spread;
    std::mt19937_64 random;
    std::normal_distribution<double> gauss;
    std::vector<double> extras;
};

/// Day and hour of the n-th take of invented practice: `perDay` takes a day, five minutes apart, from
/// 2024-03-04 18:00 UTC.
[[nodiscard]] TakeFacts factsOf(int take, double bpm, int perDay = 4);

/// `count` takes of one drill at one tempo step up a day, from score to evidence. `meanExtra`: of the first
/// weakness over these takes, as it was played.
[[nodiscard]] std::vector<TakeEvidence> practise(Player& player, const Drill& drill,
                                                 const Instrument& instrument, int count,
                                                 double firstBpm = 66.0, double* meanExtra = nullptr);

/// Every change that the drill asks for, without measures.
[[nodiscard]] std::vector<ChangeEvidence> changesAsked(const Drill& drill, const Instrument& instrument);

/// The drill of the trade in full: up and down, fingerings mixed note by note.
[[nodiscard]] Drill fullDrill(const Instrument& instrument);

} // namespace valveladder::simulated
