#include "Listening/MidiListener.h"

#include "Listening/Estimates.h"
#include "Listening/Measures.h"
#include "Listening/NoteAlignment.h"
#include "Listening/ValveSensors.h"

#include <algorithm>
#include <cmath>
#include <tuple>

namespace valveladder {

namespace {

constexpr double msPerSecond = 1000.0;
constexpr int semitonesPerOctave = 12;

/// Times beyond this are no music: a broken file or a clock gone wild.
constexpr double usableSeconds = 1e7;
/// Notes this far outside the take may still be one of its notes, early or late.
constexpr double edgeSeconds = 0.5;
/// A note heard so briefly before the right one, and not in the first two thirds of the note before, is how
/// the right one spoke. Common practice, no source.
constexpr double speakSeconds = 0.06;
constexpr double speakOverlapSeconds = 0.02;
constexpr double speakShare = 1.0 / 3.0;

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
    std::vector<PlayedNote> notes;
    int unusable = 0;
    int withoutLength = 0;
};

Hearing hear(const MidiTake& take, double roundTripSeconds) {
    Hearing hearing;
    for (PlayedNote note : take.notes) {
        note.onset -= roundTripSeconds;
        note.offset -= roundTripSeconds;
        if (!(std::abs(note.onset) < usableSeconds)) {
            ++hearing.unusable;
            continue;
        }
        if (note.onset < take.fromSeconds - edgeSeconds || note.onset >= take.toSeconds + edgeSeconds)
            continue;
        if (!(note.offset > note.onset) || !(note.offset < usableSeconds)) {
            note.offset = note.onset;
            ++hearing.withoutLength;
        }
        hearing.notes.push_back(note);
    }
    std::ranges::sort(hearing.notes, {}, [](const PlayedNote& note) {
        return std::tuple(note.onset, note.pitch, note.offset, note.velocity);
    });
    return hearing;
}

/// The part of the score that the take covers.
struct Expectation {
    int firstIndex = 0;
    std::vector<ExpectedOnset> notes;
    std::vector<double> ends; ///< seconds
};

Expectation expect(const Score& score, const TempoMap& tempo, const MidiTake& take) {
    Expectation expectation;
    std::vector<double> noteValues; // of each span, quarters
    for (const ScoreSpan& span : score.spans)
        noteValues.push_back(span.noteCount > 0 ? noteValueTicks(score, span) / ticksPerQuarter : 0.0);
    for (std::size_t i = 0; i < score.notes.size(); ++i) {
        const ScoreNote& note = score.notes[i];
        const double seconds = scoreSeconds(tempo, note.onset);
        if (seconds < take.fromSeconds || seconds >= take.toSeconds)
            continue;
        if (expectation.notes.empty())
            expectation.firstIndex = static_cast<int>(i);
        const double quarters = noteValues[static_cast<std::size_t>(note.span)];
        const double bpm = tempo.bpmAt(static_cast<double>(note.onset) / ticksPerQuarter);
        expectation.notes.push_back(
            {seconds, note.sounding, quarters * 60.0 / bpm,
             static_cast<int>(i) == score.spans[static_cast<std::size_t>(note.span)].firstNote});
        expectation.ends.push_back(scoreSeconds(tempo, note.onset + note.length));
    }
    return expectation;
}

std::vector<HeardOnset> onsetsOf(const Hearing& hearing) {
    std::vector<HeardOnset> onsets;
    onsets.reserve(hearing.notes.size());
    for (const PlayedNote& note : hearing.notes)
        onsets.push_back({note.onset, note.pitch});
    return onsets;
}

/// How late the matched notes are as a whole, seconds; 0 when none is matched.
double latenessOf(const Alignment& alignment, std::span<const ExpectedOnset> expected,
                  std::span<const HeardOnset> heard) {
    std::vector<double> late;
    for (std::size_t i = 0; i < expected.size(); ++i)
        if (const int j = alignment.heardFor[i]; j >= 0)
            late.push_back(heard[static_cast<std::size_t>(j)].seconds - expected[i].seconds);
    return late.empty() ? 0.0 : median(std::move(late));
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
int findShift(const Alignment& plain, std::span<const ExpectedOnset> expected,
              std::span<const HeardOnset> heard) {
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

std::string shiftRemark(int shift) {
    const std::string direction = shift > 0 ? " above" : " below";
    const int size = std::abs(shift);
    if (size % semitonesPerOctave == 0) {
        const std::string octaves = size == semitonesPerOctave ? "an octave" : "two octaves";
        return "Everything sounded " + octaves + direction +
               " the drill and was judged in its own octave: set the controller's octave";
    }
    return "Everything sounded " + std::to_string(size) + (size == 1 ? " semitone" : " semitones") +
           direction + " the drill: set the controller's transposition, or the instrument's";
}

/// One pass over a take; holds what its steps share.
class MidiHearer {
public:
    MidiHearer(const Score& s, const TempoMap& t, const MidiTake& m, double roundTripSeconds)
        : score(s), tempo(t), take(m), hearing(hear(m, roundTripSeconds)), expectation(expect(s, t, m)) {}

    Performance run(double roundTripSeconds) {
        performance.source = Source::midi;
        align();
        addNotes();
        addExtras();
        addChanges();
        if (!take.valves.empty()) {
            std::vector<ValveMove> moves = take.valves;
            for (ValveMove& move : moves)
                move.seconds -= roundTripSeconds;
            measureValves(performance, score, tempo, std::move(moves));
        }
        fillMeasures(performance, score, tempo);
        addRemarks();
        return std::move(performance);
    }

private:
    /// In two passes: between two near candidates for one note the place decides, and asynchrony, being no
    /// fault, must not sway that.
    void align() {
        std::vector<HeardOnset> onsets = onsetsOf(hearing);
        alignment = alignNotes(expectation.notes, onsets);
        shift = findShift(alignment, expectation.notes, onsets);
        if (shift != 0)
            alignment = alignNotes(expectation.notes, onsets, shift);
        const double late = latenessOf(alignment, expectation.notes, onsets);
        for (HeardOnset& onset : onsets)
            onset.seconds -= late;
        alignment = alignNotes(expectation.notes, onsets, shift);
        judgedShift = shift % semitonesPerOctave == 0 ? shift : 0;
    }

    void addNotes() {
        for (std::size_t i = 0; i < expectation.notes.size(); ++i) {
            NoteResult note;
            note.index = expectation.firstIndex + static_cast<int>(i);
            if (const int j = alignment.heardFor[i]; j >= 0) {
                const PlayedNote& heard = hearing.notes[static_cast<std::size_t>(j)];
                note.outcome =
                    heard.pitch - judgedShift == expectation.notes[i].pitch ? Outcome::right : Outcome::wrong;
                note.played = heard.pitch;
                note.onsetSeconds = heard.onset;
                if (heard.offset > heard.onset)
                    note.offsetSeconds = heard.offset;
            }
            performance.notes.push_back(note);
        }
    }

    void addExtras() {
        if (expectation.notes.empty())
            return;
        std::vector<int> expectedFor(hearing.notes.size(), -1);
        for (std::size_t i = 0; i < alignment.heardFor.size(); ++i)
            if (alignment.heardFor[i] >= 0)
                expectedFor[static_cast<std::size_t>(alignment.heardFor[i])] = static_cast<int>(i);
        std::vector<int> following(hearing.notes.size(), -1); // the next note matched after each
        for (std::size_t j = hearing.notes.size(), next = j; j-- > 0;) {
            following[j] = next < hearing.notes.size() ? expectedFor[next] : -1;
            if (expectedFor[j] >= 0)
                next = j;
        }
        int before = -1;
        for (std::size_t j = 0; j < hearing.notes.size(); ++j) {
            if (expectedFor[j] >= 0)
                before = expectedFor[j];
            else
                addExtra(hearing.notes[j], before, following[j]);
        }
    }

    void addExtra(const PlayedNote& heard, int before, int after) {
        if (heard.onset < take.fromSeconds || heard.onset >= take.toSeconds)
            return;
        int near = noteSoundingAt(heard.onset, before >= 0 ? before : after);
        if (near == before && before >= 0 && result(before).played == heard.pitch) {
            result(before).split = true;
        } else if (after >= 0 && (speaks(heard, before, after) || near == after)) {
            near = after;
            if (speaks(heard, before, after) || result(after).played == heard.pitch)
                result(after).split = true;
        }
        performance.extras.push_back({heard.onset, heard.offset, heard.pitch, expectation.firstIndex + near});
    }

    /// Whether `heard` is a short sound that ends where the note `after` begins.
    bool speaks(const PlayedNote& heard, int before, int after) {
        const double onset = *result(after).onsetSeconds;
        const double interval =
            before >= 0 ? onset - *result(before).onsetSeconds : speakSeconds / speakShare;
        return onset - heard.onset <= std::min(speakSeconds, interval * speakShare) &&
               heard.offset <= onset + speakOverlapSeconds;
    }

    /// The expected note that holds this moment or comes next, given how late the player was at `matched`.
    [[nodiscard]] int noteSoundingAt(double seconds, int matched) {
        if (matched >= 0)
            seconds -=
                *result(matched).onsetSeconds - expectation.notes[static_cast<std::size_t>(matched)].seconds;
        const auto later = std::ranges::upper_bound(expectation.notes, seconds, {}, &ExpectedOnset::seconds);
        const auto count = later - expectation.notes.begin();
        const bool holds = count > 0 && seconds < expectation.ends[static_cast<std::size_t>(count - 1)];
        const auto last = static_cast<std::ptrdiff_t>(expectation.notes.size()) - 1;
        return static_cast<int>(std::min(holds ? count - 1 : count, last));
    }

    void addChanges() {
        for (std::size_t i = 1; i < performance.notes.size(); ++i) {
            const NoteResult& before = performance.notes[i - 1];
            const NoteResult& note = performance.notes[i];
            const ScoreNote& asked = score.notes[static_cast<std::size_t>(note.index)];
            if (score.notes[static_cast<std::size_t>(before.index)].span != asked.span)
                continue;
            ChangeResult change;
            change.toIndex = note.index;
            change.change = score.changeInto(note.index);
            change.slurred = asked.slurFromPrevious;
            if (!change.slurred && note.onsetSeconds && before.offsetSeconds)
                change.gapMs = (*note.onsetSeconds - *before.offsetSeconds) * msPerSecond;
            performance.changes.push_back(change);
        }
    }

    void addRemarks() {
        if (shift != 0)
            performance.remarks.push_back(shiftRemark(shift));
        if (hearing.unusable > 0)
            performance.remarks.push_back(std::to_string(hearing.unusable) +
                                          " notes were left out: their times make no sense");
        if (hearing.withoutLength > 0)
            performance.remarks.push_back(std::to_string(hearing.withoutLength) +
                                          " notes came without a length: gaps and breaths after them are "
                                          "not known");
    }

    NoteResult& result(int expected) { return performance.notes[static_cast<std::size_t>(expected)]; }

    const Score& score;
    const TempoMap& tempo;
    const MidiTake& take;
    Hearing hearing;
    Expectation expectation;
    Alignment alignment;
    int shift = 0;       ///< found for the whole take, semitones
    int judgedShift = 0; ///< allowed: whole octaves only
    Performance performance;
};

} // namespace

Performance listenToMidi(const Score& score, const TempoMap& tempo, const MidiTake& take,
                         double roundTripMs) {
    const double roundTripSeconds = std::isfinite(roundTripMs) ? roundTripMs / msPerSecond : 0.0;
    return MidiHearer(score, tempo, take, roundTripSeconds).run(roundTripSeconds);
}

} // namespace valveladder
