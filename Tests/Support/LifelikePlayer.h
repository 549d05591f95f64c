#pragma once

#include "Support/SimulatedPlayer.h"

#include <cstdint>
#include <random>
#include <vector>

namespace valveladder::simulated {

/// How people play who were not made for the model: tails, drift and blunders, and everything that makes
/// notes late without a finger being at fault.
struct Life {
    double heavySdMs = 14.0;    ///< of each note's own scatter, Student t with 3 degrees of freedom
    double driftSdMs = 10.0;    ///< wanders from note to note (first-order autoregression, memory by player)
    double rubatoMs = 8.0;      ///< a slow swell over a segment, its phase by segment
    double blunderShare = 0.01; ///< of notes, 60 to 120 ms late
    double pitchMs = 30.0;      ///< the lowest note of the drill speaks so much later than the highest
    double accentMs = 40.0;     ///< an accented note is held so much longer, and the next is late
    double errorShare = 0.02;   ///< of notes: half wrong, half missed
    double takeSdMs = 12.0;     ///< each take's own asynchrony
    double changeoverMs = 70.0; ///< by valve sensors, where they are played
    bool sensors = false;       ///< changeovers are measured as well
    double effectSd = 0.0;      ///< of each weakness from take to take, as a share of it
};

/// An invented player, by MIDI: a pure function of what is planted and the seed. The confounders' sizes
/// differ from player to player between half and the whole of what Life says.
class LifelikePlayer {
public:
    LifelikePlayer(std::vector<Weak> weaknesses, const Life& life, std::uint64_t seed);

    [[nodiscard]] Performance play(const Drill& drill, const Instrument& instrument, const Score& score);

    /// Weaknesses from now on; for players who get better or worse.
    void become(std::vector<Weak> weaknesses) { weak = std::move(weaknesses); }
    /// The extra of each weakness in the take played last, ms.
    [[nodiscard]] const std::vector<double>& lastExtras() const { return extras; }

private:
    [[nodiscard]] double normal(double sd) { return sd * gauss(random); }
    [[nodiscard]] double heavy(double sd);
    [[nodiscard]] double uniform(double low, double high);
    [[nodiscard]] std::vector<double> scatter(const Score& score);
    [[nodiscard]] std::vector<double> confounders(const Score& score) const;

    std::vector<Weak> weak;
    Life life;
    std::mt19937_64 random;
    std::normal_distribution<double> gauss;
    double memory = 0.9;
    std::vector<double> extras;
};

/// One take of one day, from score to evidence. `take` numbers the player's takes; see factsOf.
[[nodiscard]] TakeEvidence playTake(LifelikePlayer& player, const Drill& drill, const Instrument& instrument,
                                    int take, double bpm, int perDay = 4);

/// `count` takes of one drill.
[[nodiscard]] std::vector<TakeEvidence> practise(LifelikePlayer& player, const Drill& drill,
                                                 const Instrument& instrument, int count,
                                                 double firstBpm = 60.0);

} // namespace valveladder::simulated
