#include "Listening/ScoreMatch.h"

#include "Base/Index.h"
#include "Base/Units.h"
#include "Listening/Estimates.h"
#include "Listening/Measures.h"
#include "Listening/Restarts.h"
#include "Valves/Interval.h"

#include <algorithm>
#include <cmath>
#include <utility>

namespace valveladder {

namespace {

/// How a note comes to speak: a sound that begins so shortly before it and ends where it begins, and does not
/// lie in the first two thirds of the time since the note before. Common practice, no source.
constexpr double speakSeconds = 0.08;
constexpr double speakShare = 1.0 / 3.0;
constexpr double speakOverlapSeconds = 0.02;
constexpr double speakGapSeconds = 0.03;

/// A cracked note speaks through another partial for no longer than this, and this share of the time since
/// the note before. Common practice, no source.
constexpr double crackSeconds = 0.12;
constexpr double crackShare = 0.5;
constexpr int partialsAway = 2;
/// Lips bend a partial by no more than this.
constexpr double partialSemitones = 0.7;

/// How late the matched notes are as a whole, seconds; 0 when none is matched.
double latenessOf(const Alignment& alignment, std::span<const ExpectedOnset> expected,
                  std::span<const HeardOnset> heard) {
    std::vector<double> late;
    for (std::size_t i = 0; i < expected.size(); ++i)
        if (const int j = alignment.heardFor[i]; j >= 0)
            late.push_back(heard[at(j)].seconds - expected[i].seconds);
    return late.empty() ? 0.0 : median(std::move(late));
}

Alignment alignWithoutLateness(std::span<const ExpectedOnset> expected, std::vector<HeardOnset> onsets,
                               int semitoneShift) {
    const Alignment plain = alignNotes(expected, onsets, semitoneShift);
    const double late = latenessOf(plain, expected, onsets);
    for (HeardOnset& onset : onsets)
        onset.seconds -= late;
    return alignNotes(expected, onsets, semitoneShift);
}

/// One pass over a take; holds what its steps share.
class Matcher {
public:
    Matcher(std::span<const NoteEvidence> evidence, const Score& s, const ExpectedNotes& e,
            const MatchOptions& given)
        : heard(evidence), score(s), options(given), expected(e) {
        match.heardFor =
            alignWithoutLateness(expected.notes, onsetsOf(heard), options.semitoneShift).heardFor;
    }

    ScoreMatch run() {
        addNotes();
        addExtras();
        addChanges();
        return std::move(match);
    }

private:
    [[nodiscard]] NoteResult& result(int note) { return match.performance.notes[at(note)]; }
    [[nodiscard]] const ScoreNote& scoreNote(const NoteResult& note) const {
        return score.notes[at(note.index)];
    }

    void addNotes() {
        for (std::size_t i = 0; i < expected.notes.size(); ++i) {
            NoteResult note;
            note.index = expected.firstIndex + static_cast<int>(i);
            if (const int j = match.heardFor[i]; j >= 0) {
                const NoteEvidence& played = heard[at(j)];
                note.outcome = played.pitch - options.allowedShift == expected.notes[i].pitch
                                   ? Outcome::right
                                   : Outcome::wrong;
                note.played = played.pitch;
                note.onsetSeconds = played.onset;
                note.offsetSeconds = played.offset;
            }
            match.performance.notes.push_back(note);
        }
    }

    void addExtras() {
        if (expected.notes.empty())
            return;
        std::vector<int> expectedFor(heard.size(), -1);
        for (std::size_t i = 0; i < match.heardFor.size(); ++i)
            if (match.heardFor[i] >= 0)
                expectedFor[at(match.heardFor[i])] = static_cast<int>(i);
        std::vector<int> following(heard.size(), -1); // the next note matched after each
        int next = -1;
        for (std::size_t j = heard.size(); j-- > 0;) {
            following[j] = next;
            if (expectedFor[j] >= 0)
                next = expectedFor[j];
        }
        int before = -1;
        for (std::size_t j = 0; j < heard.size(); ++j) {
            if (expectedFor[j] >= 0)
                before = expectedFor[j];
            else if (heard[j].onset >= options.span.fromSeconds && heard[j].onset < options.span.toSeconds)
                addExtra(j, before, following[j]);
        }
    }

    /// Evidence j between the expected notes `before` and `after`, -1 where there is none.
    void addExtra(std::size_t j, int before, int after) {
        const NoteEvidence& extra = heard[j];
        int near = noteSoundingAt(extra.onset, before >= 0 ? before : after);
        const bool again = extra.strikesAgain || (near == before && !followsABreath(j));
        if (before >= 0 && result(before).played == extra.pitch && again) {
            near = before;
            result(before).split = true;
        } else if (after >= 0) {
            const bool speaks = speaksAs(extra, before, after);
            const bool cracks = cracksInto(extra, before, after);
            if (near == after || speaks || cracks || isFirstArticulation(j, after)) {
                near = after;
                if (result(after).played == extra.pitch || speaks)
                    result(after).split = true;
                if (cracks)
                    crack(result(after), extra);
            }
        }
        match.performance.extras.push_back(
            {extra.onset, extra.offset.value_or(extra.onset), extra.pitch, expected.firstIndex + near});
    }

    [[nodiscard]] bool followsABreath(std::size_t j) const {
        return j > 0 && heard[j - 1].offset &&
               heard[j].onset - *heard[j - 1].offset >= breathGapMs / msPerSecond;
    }

    /// Whether evidence j is the first articulation of the note `after`, which was struck again.
    [[nodiscard]] bool isFirstArticulation(std::size_t j, int after) {
        return j + 1 < heard.size() && heard[j + 1].strikesAgain &&
               static_cast<int>(j) + 1 == match.heardFor[at(after)] && result(after).played == heard[j].pitch;
    }

    /// Whether the note `after` came to speak through another partial of its own valves.
    [[nodiscard]] bool cracksInto(const NoteEvidence& extra, int before, int after) {
        const NoteResult& note = result(after);
        const double onset = *note.onsetSeconds;
        const double since = before >= 0 ? onset - *result(before).onsetSeconds : crackSeconds / crackShare;
        const double end = extra.offset.value_or(onset);
        return note.outcome == Outcome::right && extra.pitch != note.played &&
               onset - extra.onset <= std::min(crackSeconds, since * crackShare) &&
               end <= onset + speakOverlapSeconds && end >= onset - speakGapSeconds &&
               isPartial(scoreNote(note), extra.pitch - options.semitoneShift);
    }

    /// Whether the pitch is a partial next to the note's own, of the same valves.
    [[nodiscard]] bool isPartial(const ScoreNote& note, MidiNote pitch) const {
        const double lowest = score.fundamentals[note.combination.bits()];
        if (lowest <= 0.0)
            return false;
        const int own = static_cast<int>(std::lround(frequencyRatio(note.sounding - lowest)));
        for (int partial = std::max(1, own - partialsAway); partial <= own + partialsAway; ++partial)
            if (partial != own && std::abs(lowest + semitonesOf(partial) - pitch) < partialSemitones)
                return true;
        return false;
    }

    static void crack(NoteResult& note, const NoteEvidence& extra) {
        note.split = true;
        note.crackedMs = (*note.onsetSeconds - extra.onset) * msPerSecond;
        note.crackedThrough = extra.pitch;
        note.onsetSeconds = extra.onset;
    }

    /// Whether the extra is how the note `after` came to speak.
    [[nodiscard]] bool speaksAs(const NoteEvidence& extra, int before, int after) {
        const double onset = *result(after).onsetSeconds;
        const double since = before >= 0 ? onset - *result(before).onsetSeconds : speakSeconds / speakShare;
        const double end = extra.offset.value_or(onset);
        return onset - extra.onset <= std::min(speakSeconds, since * speakShare) &&
               end <= onset + speakOverlapSeconds && end >= onset - speakGapSeconds;
    }

    /// The expected note that holds this moment or comes next, given how late the player was at `matched`.
    [[nodiscard]] int noteSoundingAt(double seconds, int matched) {
        if (matched >= 0)
            seconds -= *result(matched).onsetSeconds - expected.notes[at(matched)].seconds;
        const auto later = std::ranges::upper_bound(expected.notes, seconds, {}, &ExpectedOnset::seconds);
        const auto count = later - expected.notes.begin();
        const bool holds = count > 0 && seconds < expected.ends[static_cast<std::size_t>(count - 1)];
        const auto last = static_cast<std::ptrdiff_t>(expected.notes.size()) - 1;
        return static_cast<int>(std::min(holds ? count - 1 : count, last));
    }

    /// Whether nothing but second articulations of the note before was heard between it and note i.
    [[nodiscard]] bool follows(std::size_t i) const {
        const int to = match.heardFor[i];
        int from = match.heardFor[i - 1];
        if (to < 0 || from < 0)
            return false;
        while (from + 1 < to && heard[at(from + 1)].strikesAgain)
            ++from;
        return from + 1 == to;
    }

    void addChanges() {
        const auto& notes = match.performance.notes;
        for (std::size_t i = 1; i < notes.size(); ++i) {
            const ScoreNote& asked = scoreNote(notes[i]);
            if (scoreNote(notes[i - 1]).span != asked.span)
                continue;
            ChangeResult change;
            change.toIndex = notes[i].index;
            change.change = score.changeInto(notes[i].index);
            change.slurred = asked.slurFromPrevious;
            if (follows(i))
                measure(change, i);
            match.performance.changes.push_back(change);
        }
    }

    void measure(ChangeResult& change, std::size_t i) const {
        const auto& notes = match.performance.notes;
        const NoteEvidence& reached = heard[at(match.heardFor[i])];
        const auto& left = heard[at(match.heardFor[i] - 1)];
        if (!change.slurred && left.offset)
            change.gapMs = (reached.onset - *left.offset) * msPerSecond;
        if (change.slurred && notes[i].outcome == Outcome::right && notes[i - 1].outcome == Outcome::right)
            change.changeoverMs = reached.changeoverMs;
    }

    std::span<const NoteEvidence> heard;
    const Score& score;
    MatchOptions options;
    const ExpectedNotes& expected;
    ScoreMatch match;
};

/// A segment that was begun again is expected from its last beginning on.
void expectAnew(ExpectedNotes& expected, const Score& score, const EarlierTry& earlier) {
    const double later = earlier.againSeconds - earlier.seconds;
    for (std::size_t i = 0; i < expected.notes.size(); ++i)
        if (score.notes[at(expected.firstIndex) + i].span == earlier.span) {
            expected.notes[i].seconds += later;
            expected.ends[i] += later;
        }
}

void tellTry(Performance& performance, const Score& score, const EarlierTry& earlier) {
    const ScoreSpan& span = score.spans[at(earlier.span)];
    auto& segments = performance.segments;
    if (segments.empty() || segments.back().span != earlier.span) {
        SegmentResult segment;
        segment.span = earlier.span;
        segments.push_back(segment);
    }
    ++segments.back().earlierTries;
    const auto named = [](const std::vector<std::string>& names, int number) {
        return at(number) < names.size() ? names[at(number)] : std::string();
    };
    performance.remarks.emplace_back(SegmentRestarted{span.rung, named(score.rungLabels, span.rung),
                                                      span.segment, named(score.segmentNames, span.segment),
                                                      earlier.heardCount, earlier.againSeconds});
}

} // namespace

ExpectedNotes expectedNotes(const Score& score, const TempoMap& tempo, TakeSpan span) {
    ExpectedNotes expected;
    std::vector<double> noteValues; // of each span, quarters
    for (const ScoreSpan& each : score.spans)
        noteValues.push_back(each.noteCount > 0 ? noteValueTicks(score, each) / ticksPerQuarter : 0.0);
    for (std::size_t i = 0; i < score.notes.size(); ++i) {
        const ScoreNote& note = score.notes[i];
        const double seconds = scoreSeconds(tempo, note.onset);
        if (seconds < span.fromSeconds || seconds >= span.toSeconds)
            continue;
        if (expected.notes.empty())
            expected.firstIndex = static_cast<int>(i);
        const double bpm = tempo.bpmAt(quartersOf(note.onset));
        const bool first = static_cast<int>(i) == score.spans[at(note.span)].firstNote;
        expected.notes.push_back(
            {seconds, note.sounding, noteValues[at(note.span)] * secondsPerMinute / bpm, first});
        expected.ends.push_back(scoreSeconds(tempo, note.onset + note.length));
    }
    return expected;
}

std::vector<HeardOnset> onsetsOf(std::span<const NoteEvidence> heard) {
    std::vector<HeardOnset> onsets;
    onsets.reserve(heard.size());
    for (const NoteEvidence& note : heard)
        onsets.push_back({note.onset, note.pitch, note.extraCost});
    return onsets;
}

ScoreMatch matchToScore(std::span<const NoteEvidence> heard, const Score& score, const TempoMap& tempo,
                        const MatchOptions& options) {
    ExpectedNotes expected = expectedNotes(score, tempo, options.span);
    const auto tries = findEarlierTries(heard, expected, score, options.semitoneShift);
    if (tries.empty())
        return Matcher(heard, score, expected, options).run();
    std::vector<NoteEvidence> counted;
    std::vector<int> places; // of these in `heard`
    auto earlier = tries.begin();
    for (int j = 0; j < static_cast<int>(heard.size()); ++j) {
        if (earlier != tries.end() && j == earlier->firstHeard) {
            expectAnew(expected, score, *earlier);
            j += earlier->heardCount - 1;
            ++earlier;
            continue;
        }
        counted.push_back(heard[at(j)]);
        places.push_back(j);
    }
    ScoreMatch match = Matcher(counted, score, expected, options).run();
    for (int& j : match.heardFor)
        j = j < 0 ? j : places[at(j)];
    for (const EarlierTry& each : tries)
        tellTry(match.performance, score, each);
    return match;
}

} // namespace valveladder
