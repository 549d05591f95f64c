#include "Listening/MidiListener.h"

#include "Base/Units.h"
#include "Listening/Estimates.h"
#include "Listening/Measures.h"
#include "Listening/ScoreMatch.h"
#include "Listening/ValveSensors.h"
#include "Valves/Interval.h"

#include <algorithm>
#include <cmath>
#include <tuple>

namespace valveladder {

namespace {

/// Times beyond this are no music: a broken file or a clock gone wild.
constexpr double usableSeconds = 1e7;
/// Notes this far outside the take may still be one of its notes, early or late.
constexpr double edgeSeconds = 0.5;
/// When a whole take is looked at for a controller set to another octave or transposition.
struct ShiftSearch {
    static constexpr double mistakesShare = 0.1; ///< looked for only above this share of notes not right
    static constexpr int farthest = 24;          ///< semitones
    static constexpr int minRight = 4;
    static constexpr double minRightShare = 0.6; ///< of the notes heard
    static constexpr double costShare = 0.5;     ///< a shift must explain the take twice as well
    static constexpr int sampleNotes = 400;      ///< looked at
};

/// Heard notes, sorted, round trip subtracted, those far from the take left out.
struct Hearing {
    std::vector<NoteEvidence> notes;
    int unusable = 0;
    int withoutLength = 0;
};

Hearing hear(const MidiTake& take, double roundTripSeconds) {
    Hearing hearing;
    for (const PlayedNote& note : take.notes) {
        NoteEvidence heard;
        heard.onset = note.onset - roundTripSeconds;
        heard.offset = note.offset - roundTripSeconds;
        heard.pitch = note.pitch;
        if (!(std::abs(heard.onset) < usableSeconds)) {
            ++hearing.unusable;
            continue;
        }
        if (heard.onset < take.span.fromSeconds - edgeSeconds ||
            heard.onset >= take.span.toSeconds + edgeSeconds)
            continue;
        if (!(*heard.offset > heard.onset) || !(*heard.offset < usableSeconds)) {
            heard.offset.reset();
            ++hearing.withoutLength;
        }
        hearing.notes.push_back(heard);
    }
    std::ranges::stable_sort(hearing.notes, {}, [](const NoteEvidence& note) {
        return std::tuple(note.onset, note.pitch, note.offset);
    });
    return hearing;
}

int countRight(const Alignment& alignment, std::span<const ExpectedOnset> expected,
               std::span<const HeardOnset> heard, int shift) {
    int right = 0;
    for (std::size_t i = 0; i < expected.size(); ++i) {
        const int j = alignment.heardFor[i];
        right += j >= 0 && heard[static_cast<std::size_t>(j)].pitch - shift == expected[i].pitch;
    }
    return right;
}

/// The shift in semitones that explains the take far better than none, else 0.
int findShift(std::span<const ExpectedOnset> expected, std::span<const HeardOnset> heard) {
    const Alignment plain = alignNotes(expected, heard);
    const auto wanted = static_cast<double>(expected.size());
    if (wanted - countRight(plain, expected, heard, 0) <= ShiftSearch::mistakesShare * wanted ||
        heard.empty())
        return 0;
    const auto firstPlayed = std::ranges::find_if(plain.heardFor, [](int j) { return j >= 0; });
    const auto begin = firstPlayed == plain.heardFor.end()
                           ? std::size_t{0}
                           : static_cast<std::size_t>(firstPlayed - plain.heardFor.begin());
    const auto sample =
        expected.subspan(begin, std::min<std::size_t>(ShiftSearch::sampleNotes, expected.size() - begin));
    const auto from =
        std::ranges::lower_bound(heard, sample.front().seconds - edgeSeconds, {}, &HeardOnset::seconds);
    const auto to =
        std::ranges::lower_bound(heard, sample.back().seconds + edgeSeconds, {}, &HeardOnset::seconds);
    const std::span<const HeardOnset> sounds(from, to);
    double best = alignNotes(sample, sounds).cost * ShiftSearch::costShare;
    const double fewest = std::max<double>(ShiftSearch::minRight,
                                           ShiftSearch::minRightShare *
                                               static_cast<double>(std::min(sample.size(), sounds.size())));
    int found = 0;
    for (int shift = -ShiftSearch::farthest; shift <= ShiftSearch::farthest; ++shift) {
        const Alignment shifted = alignNotes(sample, sounds, shift);
        if (shifted.cost < best && countRight(shifted, sample, sounds, shift) >= fewest) {
            best = shifted.cost;
            found = shift;
        }
    }
    return found;
}

void addRemarks(Performance& performance, int shift, const Hearing& hearing) {
    using What = UnusableInput::What;
    if (shift != 0)
        performance.remarks.emplace_back(OtherRegister{shift});
    if (hearing.unusable > 0)
        performance.remarks.emplace_back(UnusableInput{What::timesWithoutSense, hearing.unusable});
    if (hearing.withoutLength > 0)
        performance.remarks.emplace_back(UnusableInput{What::notesWithoutLength, hearing.withoutLength});
}

} // namespace

Performance listenToMidi(const Score& score, const TempoMap& tempo, const MidiTake& take,
                         double roundTripMs) {
    const double roundTripSeconds = std::isfinite(roundTripMs) ? roundTripMs / msPerSecond : 0.0;
    const Hearing hearing = hear(take, roundTripSeconds);
    MatchOptions options{take.span};
    options.semitoneShift =
        findShift(expectedNotes(score, tempo, options.span).notes, onsetsOf(hearing.notes));
    options.allowedShift = options.semitoneShift % semitonesAnOctave == 0 ? options.semitoneShift : 0;
    Performance performance = matchToScore(hearing.notes, score, tempo, options).performance;
    performance.source = Source::midi;
    if (!take.valves.empty()) {
        std::vector<ValveMove> moves = take.valves;
        for (ValveMove& move : moves)
            move.seconds -= roundTripSeconds;
        measureValves(performance, score, tempo, std::move(moves));
    }
    fillMeasures(performance, score, tempo);
    addRemarks(performance, options.semitoneShift, hearing);
    return performance;
}

} // namespace valveladder
