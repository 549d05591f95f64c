#include "Listening/TempoFinder.h"

#include <algorithm>
#include <cmath>
#include <vector>

namespace valveladder {

namespace {

/// Notes in a row that must have the score's pitches; longer runs say more and are taken first.
constexpr int runNotes = 5;
constexpr double minSecondsPerQuarter = 0.15; ///< 400 quarters a minute
constexpr double maxSecondsPerQuarter = 6.0;  ///< 10
/// Width of a vote: of the tempo, as a ratio; of the start, in seconds.
constexpr double tempoBinsAnOctave = 48.0;
constexpr double startBinSeconds = 0.06;

struct Match {
    std::size_t heard;
    std::size_t score;
};

bool samePitch(const HeardNote& note, const ScoreNote& expected, double tuning) {
    return std::abs(note.midi - tuning - expected.sounding) < 0.5;
}

/// Every place at which runNotes heard notes in a row have the pitches of notes in a row of one segment.
std::vector<Match> matchingRuns(std::span<const HeardNote> notes, const Score& score, double tuning) {
    std::vector<Match> runs;
    const auto run = static_cast<std::size_t>(runNotes);
    for (std::size_t h = 0; h + run <= notes.size(); ++h)
        for (std::size_t s = 0; s + run <= score.notes.size(); ++s) {
            if (score.notes[s].span != score.notes[s + run - 1].span)
                continue;
            std::size_t k = 0;
            while (k < run && samePitch(notes[h + k], score.notes[s + k], tuning))
                ++k;
            if (k == run)
                runs.push_back({h, s});
        }
    return runs;
}

double quarters(Tick tick) {
    return static_cast<double>(tick) / ticksPerQuarter;
}

/// The place with most votes about it and the median of those within `width`.
double mostVoted(std::vector<double> values, double width) {
    std::sort(values.begin(), values.end());
    std::size_t bestFrom = 0;
    std::size_t bestTo = 0;
    for (std::size_t from = 0, to = 0; from < values.size(); ++from) {
        while (to < values.size() && values[to] - values[from] <= width)
            ++to;
        if (to - from > bestTo - bestFrom) {
            bestFrom = from;
            bestTo = to;
        }
    }
    return values[(bestFrom + bestTo) / 2];
}

/// log2 of seconds a quarter, one vote a run: how the run's length in time compares with the score's.
std::vector<double> tempoVotes(std::span<const HeardNote> notes, const Score& score,
                               const std::vector<Match>& runs) {
    std::vector<double> votes;
    for (const Match& m : runs) {
        const std::size_t last = static_cast<std::size_t>(runNotes) - 1;
        const double seconds = notes[m.heard + last].onset - notes[m.heard].onset;
        const double length =
            quarters(score.notes[m.score + last].onset) - quarters(score.notes[m.score].onset);
        const double rate = seconds / length;
        if (rate > minSecondsPerQuarter && rate < maxSecondsPerQuarter)
            votes.push_back(std::log2(rate));
    }
    return votes;
}

} // namespace

std::optional<ScorePlace> findPlace(std::span<const HeardNote> notes, const Score& score,
                                    double tuningSemitones, std::optional<double> knownSecondsPerQuarter) {
    const auto looked = notes.first(std::min<std::size_t>(notes.size(), maxNotesForTempo));
    const std::vector<Match> runs = matchingRuns(looked, score, tuningSemitones);
    if (runs.empty())
        return std::nullopt;
    ScorePlace place;
    if (knownSecondsPerQuarter)
        place.secondsPerQuarter = *knownSecondsPerQuarter;
    else {
        const std::vector<double> votes = tempoVotes(looked, score, runs);
        if (votes.empty())
            return std::nullopt;
        place.secondsPerQuarter = std::exp2(mostVoted(votes, 1.0 / tempoBinsAnOctave));
    }
    std::vector<double> starts;
    for (const Match& m : runs)
        for (std::size_t k = 0; k < static_cast<std::size_t>(runNotes); ++k)
            starts.push_back(looked[m.heard + k].onset -
                             quarters(score.notes[m.score + k].onset) * place.secondsPerQuarter);
    place.startSeconds = mostVoted(starts, startBinSeconds);
    place.votes = static_cast<int>(std::count_if(starts.begin(), starts.end(), [&](double s) {
        return std::abs(s - place.startSeconds) <= startBinSeconds;
    }));
    return place;
}

} // namespace valveladder
