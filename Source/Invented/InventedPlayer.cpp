#include "Invented/InventedPlayer.h"

#include "Base/Units.h"

#include <algorithm>
#include <set>

namespace valveladder {

namespace {

/// A slurred note ends a little after the next has begun.
constexpr double overlapMs = 6.0;
const Combination weakCombination{0b0110}; // valves 2 and 3

std::set<std::size_t> someOf(std::size_t count, int wanted, std::mt19937& random) {
    std::set<std::size_t> chosen;
    std::uniform_int_distribution<std::size_t> any(0, count - 1);
    while (static_cast<int>(chosen.size()) < std::min(wanted, static_cast<int>(count)))
        chosen.insert(any(random));
    return chosen;
}

PlayedMessage message(double quarter, std::uint8_t status, int note, int velocity) {
    PlayedMessage result;
    result.quarter = quarter;
    result.event.bytes = {status, static_cast<std::uint8_t>(note), static_cast<std::uint8_t>(velocity)};
    return result;
}

} // namespace

std::vector<PlayedMessage> InventedPlayer::play(const Score& score, double bpm, const DemoForm& form) {
    const double quartersPerMs = bpm / msPerMinute;
    const auto wrong = someOf(score.notes.size(), form.wrongNotes, random);
    const auto missed = someOf(score.notes.size(), form.missedNotes, random);
    std::normal_distribution<double> error(form.asynchronyMs, form.spreadMs);
    std::vector<PlayedMessage> result;
    for (std::size_t i = 0; i < score.notes.size(); ++i) {
        const ScoreNote& note = score.notes[i];
        double lateMs = error(random);
        if (note.slurFromPrevious && note.combination == weakCombination)
            lateMs += form.weakChangeMs;
        if (missed.contains(i))
            continue;
        const double on = quartersOf(note.onset) + lateMs * quartersPerMs;
        const double off = quartersOf(note.onset + note.gate) + overlapMs * quartersPerMs;
        const int pitch = note.sounding + (wrong.contains(i) ? 1 : 0);
        result.push_back(message(on, noteOnStatus, pitch, note.velocity));
        result.push_back(message(std::max(off, on + quartersPerMs), noteOffStatus, pitch, 0));
    }
    std::stable_sort(result.begin(), result.end(),
                     [](const auto& a, const auto& b) { return a.quarter < b.quarter; });
    return result;
}

} // namespace valveladder
