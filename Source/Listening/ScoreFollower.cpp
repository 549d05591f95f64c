#include "Listening/ScoreFollower.h"

#include "Listening/Measures.h"

#include <algorithm>
#include <cmath>

namespace valveladder {

namespace {

constexpr int neededFrames = 3;  ///< of 5 ms on one pitch before a move
constexpr int silenceFrames = 8; ///< after which the same pitch is a new note
constexpr double steadySemitones = 0.4;
constexpr double samePitchSemitones = 0.6; ///< tuning is not known yet
constexpr int ahead = 24;                  ///< notes looked at on either side
constexpr int behind = 24;
/// Costs: a step that is not the next note; a second away from the guide's time; the most that can cost.
constexpr double perStep = 0.25;
constexpr double perSecond = 1.0;
constexpr double mostTimeCost = 4.0;
constexpr double wrongPitchCost = 2.5;

} // namespace

ScoreFollower::ScoreFollower(const Score& followed, std::optional<TempoMap> tempo,
                             std::optional<double> startSeconds)
    : score(followed) {
    if (!tempo || !startSeconds)
        return;
    expectedSeconds.reserve(score.notes.size());
    for (const ScoreNote& note : score.notes)
        expectedSeconds.push_back(*startSeconds + scoreSeconds(*tempo, note.onset));
}

double ScoreFollower::costOf(int candidate, double midi, double seconds) const {
    const auto i = static_cast<std::size_t>(candidate);
    const double off = std::abs(midi - score.notes[i].sounding);
    double cost = off < samePitchSemitones ? 0.5 * off : wrongPitchCost;
    cost += perStep * std::abs(candidate - place - 1);
    if (!expectedSeconds.empty())
        cost += std::min(mostTimeCost, perSecond * std::abs(expectedSeconds[i] - seconds));
    return cost;
}

void ScoreFollower::moveTo(double midi, double seconds) {
    const int count = static_cast<int>(score.notes.size());
    int from = std::max(0, place - behind);
    int to = std::min(count, place + 1 + ahead);
    if (!expectedSeconds.empty()) {
        const auto now = std::lower_bound(expectedSeconds.begin(), expectedSeconds.end(), seconds);
        const int expected = static_cast<int>(now - expectedSeconds.begin());
        from = std::min(from, std::max(0, expected - behind));
        to = std::max(to, std::min(count, expected + ahead));
    }
    int best = place;
    double least = 1e9;
    for (int i = from; i < to; ++i) {
        if (i == place && !fresh)
            continue;
        const double cost = costOf(i, midi, seconds);
        if (cost < least) {
            least = cost;
            best = i;
        }
    }
    place = best;
}

void ScoreFollower::hear(const HeardNow& now) {
    if (now.midi < 0.0) {
        steadyFrames = 0;
        if (++silentFrames >= silenceFrames)
            fresh = true;
        return;
    }
    silentFrames = 0;
    if (std::abs(now.midi - steadyMidi) > steadySemitones) {
        steadyMidi = now.midi;
        steadyFrames = 0;
    }
    ++steadyFrames;
    if (steadyFrames != neededFrames || score.notes.empty())
        return;
    const bool sameNote =
        place >= 0 && !fresh &&
        std::abs(now.midi - score.notes[static_cast<std::size_t>(place)].sounding) < samePitchSemitones;
    if (!sameNote)
        moveTo(now.midi, now.seconds);
    fresh = false;
}

} // namespace valveladder
