#include "Listening/HalfDone.h"

#include "Score/Score.h"
#include "Valves/Interval.h"

#include <algorithm>
#include <cmath>

namespace valveladder {

namespace {

/// A partial is near that lies no further than this, semitones, from the notes or between them: the second
/// and third partial, the widest apart that a ladder uses, lie seven apart, and lips lock to the nearer one.
constexpr double nearSemitones = 3.6;
/// What lies this close to a note cannot be told from it.
constexpr double sameSemitones = 0.6;
constexpr double mostTuning = 1.5;
constexpr double intervalTolerance = 0.5;
constexpr int highestPartial = 16;

double pitchOf(const Score& score, Combination combination, int partial) {
    return score.fundamentals[combination.bits()] + semitonesOf(partial);
}

/// Where a combination sounds the note, by its partial nearest to it.
double soundOf(const Score& score, Combination combination, MidiNote note) {
    double nearest = pitchOf(score, combination, 1);
    for (int partial = 2; partial <= highestPartial; ++partial)
        if (const double pitch = pitchOf(score, combination, partial);
            std::abs(pitch - note) < std::abs(nearest - note))
            nearest = pitch;
    return nearest;
}

void addBetween(std::vector<HalfDone>& found, const Score& score, const Change& change, double from,
                double to) {
    const unsigned moved = change.from.bits() ^ change.to.bits();
    for (unsigned first = 1; first < moved; ++first) {
        if ((first & moved) != first)
            continue;
        const Combination between(static_cast<std::uint8_t>(change.from.bits() ^ first));
        if (score.fundamentals[between.bits()] <= 0.0)
            continue;
        for (int partial = 2; partial <= highestPartial; ++partial) {
            const double pitch = pitchOf(score, between, partial);
            const bool near =
                pitch > std::min(from, to) - nearSemitones && pitch < std::max(from, to) + nearSemitones;
            const bool apart = std::abs(pitch - from) > sameSemitones && std::abs(pitch - to) > sameSemitones;
            if (near && apart)
                found.push_back({change, between, pitch - from});
        }
    }
}

} // namespace

HalfDoneChanges::HalfDoneChanges(const Score& score) {
    for (std::size_t i = 1; i < score.notes.size(); ++i) {
        const ScoreNote& to = score.notes[i];
        const ScoreNote& from = score.notes[i - 1];
        const Change change{from.combination, to.combination};
        if (to.span != from.span || change.fingersMoved() < 2 ||
            score.fundamentals[from.combination.bits()] <= 0.0)
            continue;
        std::vector<HalfDone>& known = bySounding[{from.sounding, to.sounding}];
        if (std::ranges::any_of(known, [&](const HalfDone& h) { return h.change == change; }))
            continue;
        addBetween(known, score, change, soundOf(score, from.combination, from.sounding),
                   soundOf(score, to.combination, to.sounding));
    }
}

std::vector<HalfDone> HalfDoneChanges::between(double fromMidi, double toMidi) const {
    std::vector<HalfDone> found;
    for (const auto& [notes, changes] : bySounding)
        if (std::abs(toMidi - fromMidi - (notes.second - notes.first)) < intervalTolerance &&
            std::abs(fromMidi - notes.first) < mostTuning)
            found.insert(found.end(), changes.begin(), changes.end());
    return found;
}

} // namespace valveladder
