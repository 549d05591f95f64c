#include "Support/SensorFingers.h"

#include "Listening/ValveSensors.h"
#include "Tempo/TempoMap.h"

#include <cmath>
#include <random>

namespace valveladder::simulated {

namespace {

/// When a note sounded or, where it was missed, should have.
double onsetOf(const NoteResult& note, const Score& score) {
    const TempoMap tempo(score.bpm);
    const auto& asked = score.notes[static_cast<std::size_t>(note.index)];
    return note.onsetSeconds.value_or(tempo.secondsAt(static_cast<double>(asked.onset) / ticksPerQuarter));
}

double extraMs(const std::vector<Weak>& weaknesses, int finger, bool pressed) {
    const auto kind = pressed ? SuspectKind::press : SuspectKind::release;
    double extra = 0.0;
    for (const auto& weak : weaknesses)
        if (weak.suspect.kind == kind && weak.suspect.finger == finger)
            extra += weak.extraMs;
    return extra;
}

} // namespace

std::vector<ValveMove> sensorMoves(const Performance& played, const Score& score,
                                   const std::vector<Weak>& weaknesses, const Fingers& fingers,
                                   std::uint64_t seed) {
    constexpr double freedom = 3.0, msPerSecond = 1000.0;
    std::mt19937_64 random(seed);
    std::student_t_distribution<double> student(freedom);
    const double scale = fingers.heavySdMs / std::sqrt(freedom / (freedom - 2.0));
    std::vector<ValveMove> moves;
    Combination held;
    for (const auto& note : played.notes) {
        const Combination asked = score.notes[static_cast<std::size_t>(note.index)].combination;
        const double onset = onsetOf(note, score);
        for (int valve = 1; valve <= maxValves; ++valve) {
            const bool pressed = asked.has(valve);
            if (pressed == held.has(valve))
                continue;
            const double lateMs =
                (pressed ? fingers.pressLaterMs : 0.0) + extraMs(weaknesses, valve, pressed);
            moves.push_back(
                {onset + (scale * student(random) + lateMs - fingers.leadMs) / msPerSecond, valve, pressed});
        }
        held = asked;
    }
    return moves;
}

void measureBySensors(Performance& played, const Score& score, std::vector<ValveMove> moves) {
    played.changes.clear();
    for (std::size_t i = 1; i < played.notes.size(); ++i) {
        const auto to = static_cast<std::size_t>(played.notes[i].index);
        if (to == 0 || score.notes[to].span != score.notes[to - 1].span)
            continue;
        ChangeResult change;
        change.toIndex = played.notes[i].index;
        change.change = {score.notes[to - 1].combination, score.notes[to].combination};
        change.slurred = score.notes[to].slurFromPrevious;
        played.changes.push_back(change);
    }
    measureValves(played, score, TempoMap(score.bpm), std::move(moves));
}

} // namespace valveladder::simulated
