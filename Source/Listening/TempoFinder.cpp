#include "Listening/TempoFinder.h"

#include "Base/Units.h"
#include "Listening/Estimates.h"
#include "Listening/SoundMatch.h"
#include "Tempo/TempoMap.h"

#include <algorithm>
#include <cmath>
#include <vector>

namespace valveladder {

namespace {

/// Notes in a row that must have the score's pitches; shorter runs are tried where longer ones place nothing.
constexpr int runLengths[] = {5, 4, 3};
constexpr double minSecondsPerQuarter = 0.15; ///< 400 quarters a minute
constexpr double maxSecondsPerQuarter = 6.0;  ///< 10
/// Of a run's notes, root mean square over its line, in quarters: more is another rhythm. An even run lies an
/// eighth of a pair's length off a dotted one.
constexpr double rhythmQuarters = 0.08;
/// A note agrees that lies no further than this from its place, in quarters or seconds, whichever is more.
constexpr double agreeQuarters = 0.2;
constexpr double agreeSeconds = 0.06;
/// Fitted to what lies so many quarters about the run, then to all.
constexpr double fitReaches[] = {8.0, 24.0, 72.0, 1e9};
/// Proposals that are matched in full.
constexpr std::size_t fullyMatched = 8;
/// Two readings that put the notes no further apart than this, in quarters, are one.
constexpr double sameQuarters = 1.0;
/// A reading is sure if no more than this share of the notes it covers fails to match, and the next one costs
/// as much more: notes, and a share of them. Set on simulated takes, seeds below 1,000,000.
constexpr double mostCostShare = 0.4;
constexpr double leadNotes = 2.5;
constexpr double leadShare = 0.06;
/// A start that is known is known within this, seconds.
constexpr double knownStartSeconds = 0.5;

/// A straight line from quarters to seconds.
struct Place {
    double start = 0.0;
    double rate = 0.5;   ///< seconds a quarter
    double anchor = 0.0; ///< quarters, where it was proposed
    int agreeing = 0;
};

struct Pair {
    double quarter;
    double seconds;
};

std::optional<Place> lineThrough(std::span<const Pair> pairs, const KnownPlace& known) {
    double q = 0.0;
    double s = 0.0;
    for (const Pair& pair : pairs) {
        q += pair.quarter;
        s += pair.seconds;
    }
    const auto n = static_cast<double>(pairs.size());
    q /= n;
    s /= n;
    double qq = 0.0;
    double qs = 0.0;
    for (const Pair& pair : pairs) {
        qq += (pair.quarter - q) * (pair.quarter - q);
        qs += (pair.quarter - q) * (pair.seconds - s);
    }
    const double rate = known.secondsPerQuarter.value_or(qq > 0.0 ? qs / qq : 0.0);
    if (rate < minSecondsPerQuarter || rate > maxSecondsPerQuarter)
        return std::nullopt;
    return Place{s - rate * q, rate, q, 0};
}

double rhythmDeviation(std::span<const Pair> pairs, const Place& place) {
    double sum = 0.0;
    for (const Pair& pair : pairs) {
        const double off = (pair.seconds - place.start) / place.rate - pair.quarter;
        sum += off * off;
    }
    return std::sqrt(sum / static_cast<double>(pairs.size()));
}

class ReadingSearch {
public:
    ReadingSearch(std::span<const HeardNote> heard, const Score& s, double semitones, const KnownPlace& k,
                  int run)
        : runNotes(run), notes(heard.first(std::min<std::size_t>(heard.size(), maxNotesForTempo))), score(s),
          tuning(semitones), known(k) {}

    PlaceSearch run() {
        std::vector<Place> proposals = propose();
        std::ranges::stable_sort(proposals, std::greater{}, &Place::agreeing);
        PlaceSearch found;
        std::vector<Place> distinct;
        for (const Place& proposal : proposals) {
            if (distinct.size() >= fullyMatched)
                break;
            if (std::ranges::none_of(distinct, [&](const Place& p) { return same(p, proposal); }))
                distinct.push_back(proposal);
        }
        for (const Place& place : distinct)
            found.readings.push_back({place.start, place.rate, place.agreeing, costOf(place)});
        std::ranges::stable_sort(found.readings, {}, &ScorePlace::cost);
        if (!found.readings.empty() && sure(found.readings))
            found.place = found.readings.front();
        found.readings.resize(std::min<std::size_t>(found.readings.size(), 2));
        return found;
    }

private:
    [[nodiscard]] bool samePitch(std::size_t h, std::size_t s) const {
        return std::abs(notes[h].midi - tuning - score.notes[s].sounding) < 0.5;
    }

    [[nodiscard]] std::vector<Place> propose() const {
        const auto run = static_cast<std::size_t>(runNotes);
        std::vector<Place> proposals;
        for (std::size_t h = 0; h + run <= notes.size(); ++h)
            for (std::size_t s = 0; s + run <= score.notes.size(); ++s) {
                if (score.notes[s].span != score.notes[s + run - 1].span)
                    continue;
                std::size_t k = 0;
                while (k < run && samePitch(h + k, s + k))
                    ++k;
                if (k < run || std::ranges::any_of(proposals, [&](const Place& p) { return puts(p, h, s); }))
                    continue;
                if (const auto place = proposalOf(h, s))
                    proposals.push_back(*place);
            }
        return proposals;
    }

    /// Whether a place with which more than one run agrees puts heard note h on note s already.
    [[nodiscard]] bool puts(const Place& place, std::size_t h, std::size_t s) const {
        return place.agreeing > 2 * runNotes && std::abs((notes[h].onset - place.start) / place.rate -
                                                         quartersOf(score.notes[s].onset)) < agreeQuarters;
    }

    [[nodiscard]] std::optional<Place> proposalOf(std::size_t h, std::size_t s) const {
        std::vector<Pair> pairs;
        for (std::size_t k = 0; k < static_cast<std::size_t>(runNotes); ++k)
            pairs.push_back({quartersOf(score.notes[s + k].onset), notes[h + k].onset});
        auto place = lineThrough(pairs, known);
        if (!place || rhythmDeviation(pairs, *place) > rhythmQuarters)
            return std::nullopt;
        for (const double reach : fitReaches) {
            pairs = agreeing(*place, reach);
            const double anchor = place->anchor;
            if (pairs.size() < static_cast<std::size_t>(runNotes))
                return std::nullopt;
            place = lineThrough(pairs, known);
            if (!place)
                return std::nullopt;
            place->anchor = anchor;
        }
        place->agreeing = static_cast<int>(agreeing(*place, fitReaches[std::size(fitReaches) - 1]).size());
        const bool elsewhere =
            known.startSeconds && std::abs(place->start - *known.startSeconds) > knownStartSeconds;
        return elsewhere ? std::nullopt : place;
    }

    /// Heard notes that lie where the score has one of their pitch, within `reach` of the anchor.
    [[nodiscard]] std::vector<Pair> agreeing(const Place& place, double reach) const {
        std::vector<Pair> pairs;
        const double slack = std::max(agreeQuarters, agreeSeconds / place.rate);
        for (std::size_t h = 0; h < notes.size(); ++h) {
            const double quarter = (notes[h].onset - place.start) / place.rate;
            if (std::abs(quarter - place.anchor) > reach)
                continue;
            const auto from = std::ranges::lower_bound(
                score.notes, quarter - slack, {}, [](const ScoreNote& n) { return quartersOf(n.onset); });
            for (auto s = static_cast<std::size_t>(from - score.notes.begin());
                 s < score.notes.size() && quartersOf(score.notes[s].onset) <= quarter + slack; ++s)
                if (samePitch(h, s)) {
                    pairs.push_back({quartersOf(score.notes[s].onset), notes[h].onset});
                    break;
                }
        }
        return pairs;
    }

    /// Whether both put the heard notes on the same places of the score.
    [[nodiscard]] bool same(const Place& a, const Place& b) const {
        const auto apart = [&](double seconds) {
            return std::abs((seconds - a.start) / a.rate - (seconds - b.start) / b.rate);
        };
        return apart(notes.front().onset) < sameQuarters && apart(notes.back().onset) < sameQuarters;
    }

    [[nodiscard]] double costOf(const Place& place) const {
        std::vector<HeardNote> moved(notes.begin(), notes.end());
        for (HeardNote& note : moved)
            note.onset -= place.start;
        return matchCost(moved, score, TempoMap(secondsPerMinute / place.rate), {}, tuning);
    }

    /// Notes of the score outside the take cost every reading the same and say nothing of it.
    [[nodiscard]] bool sure(const std::vector<ScorePlace>& readings) const {
        const auto heardCount = static_cast<double>(notes.size());
        const double outside = std::max(0.0, static_cast<double>(score.notes.size()) - heardCount);
        const double lead = leadNotes + leadShare * heardCount;
        return readings[0].cost - outside <= mostCostShare * heardCount &&
               (readings.size() < 2 || readings[1].cost - readings[0].cost >= lead);
    }

    int runNotes;
    std::span<const HeardNote> notes;
    const Score& score;
    double tuning;
    KnownPlace known;
};

} // namespace

PlaceSearch findPlace(std::span<const HeardNote> notes, const Score& score, double tuningSemitones,
                      const KnownPlace& known) {
    PlaceSearch found;
    for (const int run : runLengths) {
        if (found.place || notes.empty())
            break;
        found = ReadingSearch(notes, score, tuningSemitones, known, run).run();
    }
    return found;
}

} // namespace valveladder
