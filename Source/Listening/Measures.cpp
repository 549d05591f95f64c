#include "Listening/Measures.h"

#include "Base/Units.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <span>
#include <tuple>

namespace valveladder {

namespace {

/// Between tongued notes silence varies with the onsets beside it, so that a breath must stand out by so many
/// times the spread of the player's own gaps (set on the tuning part of tongued takes with breaths), at most
/// by this share of the note (common practice, no source).
constexpr double breathSpreads = 2.2;
constexpr double detachedSlackShare = 0.25;

/// Why measures are absent, gathered over the take so that each reason is said once.
struct Absences {
    int unplayed = 0;
    int withoutLine = 0;
    int withoutSpread = 0;
    int withoutRatio = 0;
};

const ScoreNote& scoreNote(const Score& score, const NoteResult& note) {
    return score.notes[static_cast<std::size_t>(note.index)];
}

bool follows(const Score& score, const NoteResult& before, const NoteResult& note) {
    return note.index == before.index + 1 && scoreNote(score, before).span == scoreNote(score, note).span;
}

bool isDetached(const ScoreNote& asked) {
    return asked.gate < asked.length;
}

void dropOutside(Performance& performance, const Score& score) {
    const auto outside = [&score](int index) {
        return index < 0 || static_cast<std::size_t>(index) >= score.notes.size();
    };
    std::erase_if(performance.notes, [&](const NoteResult& note) { return outside(note.index); });
    std::erase_if(performance.extras, [&](const ExtraNote& extra) { return outside(extra.nearIndex); });
    std::ranges::sort(performance.extras, {}, [](const ExtraNote& extra) {
        return std::tuple(extra.onsetSeconds, extra.played, extra.offsetSeconds);
    });
}

/// Silence before each note, seconds; negative where sounds overlap. Absent where the note or the one before
/// it inside its segment was not heard, or the end of that is not known.
std::vector<std::optional<double>> silences(const Performance& performance, const Score& score) {
    std::vector<std::optional<double>> result(performance.notes.size());
    const auto& extras = performance.extras;
    std::size_t nextExtra = 0;
    double extrasSoundUntil = -1e300;
    for (std::size_t i = 1; i < result.size(); ++i) {
        const NoteResult& before = performance.notes[i - 1];
        const NoteResult& current = performance.notes[i];
        if (!current.onsetSeconds)
            continue;
        for (; nextExtra < extras.size() && extras[nextExtra].onsetSeconds < *current.onsetSeconds;
             ++nextExtra)
            extrasSoundUntil = std::max(extrasSoundUntil, extras[nextExtra].offsetSeconds);
        if (before.offsetSeconds && follows(score, before, current))
            result[i] = *current.onsetSeconds - std::max(*before.offsetSeconds, extrasSoundUntil);
    }
    return result;
}

/// Silence that the score asks for between two notes, seconds.
double askedGap(const ScoreNote& before, const ScoreNote& note, const TempoMap& tempo) {
    return scoreSeconds(tempo, note.onset) - scoreSeconds(tempo, before.onset + before.gate);
}

/// A silence inside a segment, beyond what the score asks for.
struct OwnGap {
    int span;
    int length;           ///< of the note before, ticks
    double lengthSeconds; ///< from that note to the one after it, by the score
    double extra;         ///< seconds
};

/// How a player usually parts notes: tongued ones the longer they are the farther, and in each segment in its
/// own way, whether the score slurs them or not.
class UsualGaps {
public:
    UsualGaps(std::span<const NoteResult> notes, std::span<const std::optional<double>> silence,
              const Score& score, const TempoMap& tempo) {
        std::vector<OwnGap> gaps;
        for (std::size_t i = 1; i < notes.size(); ++i) {
            if (!silence[i])
                continue;
            const ScoreNote& before = scoreNote(score, notes[i - 1]);
            const ScoreNote& note = scoreNote(score, notes[i]);
            gaps.push_back({before.span, before.length,
                            scoreSeconds(tempo, note.onset) - scoreSeconds(tempo, before.onset),
                            *silence[i] - askedGap(before, note, tempo)});
        }
        setUsual(gaps);
        setSpread(gaps);
    }

    /// Silence beyond the score's, seconds, negative where notes are held for longer; nothing from fewer than
    /// minObservations gaps.
    [[nodiscard]] std::optional<double> extraAfter(int span, int length, double lengthSeconds) const {
        if (const auto usual = ofSegment.find({span, length}); usual != ofSegment.end())
            return usual->second;
        if (const auto usual = ofTake.find(length); usual != ofTake.end())
            return usual->second;
        return share ? std::optional(*share * lengthSeconds) : std::nullopt;
    }

    /// Standard deviation about it, robust, as a share of the note's length; 0 where it is not known.
    [[nodiscard]] double spreadShare(int span) const {
        const auto own = spreadOfSegment.find(span);
        return own != spreadOfSegment.end() ? own->second : spreadOfTake;
    }

private:
    static bool isEnough(const std::vector<double>& values) {
        return values.size() >= static_cast<std::size_t>(minObservations);
    }

    /// `figure` of each group that is large enough.
    template <class Key, class Figure>
    static std::map<Key, double> ofGroups(const std::map<Key, std::vector<double>>& groups,
                                          const Figure& figure) {
        std::map<Key, double> figures;
        for (const auto& [key, values] : groups)
            if (isEnough(values))
                figures[key] = figure(values);
        return figures;
    }

    void setUsual(std::span<const OwnGap> gaps) {
        std::map<std::pair<int, int>, std::vector<double>> bySegment;
        std::map<int, std::vector<double>> byLength;
        std::vector<double> shares;
        for (const OwnGap& gap : gaps) {
            bySegment[{gap.span, gap.length}].push_back(gap.extra);
            byLength[gap.length].push_back(gap.extra);
            shares.push_back(gap.extra / gap.lengthSeconds);
        }
        const auto middle = [](const std::vector<double>& values) { return median(values); };
        ofSegment = ofGroups(bySegment, middle);
        ofTake = ofGroups(byLength, middle);
        if (isEnough(shares))
            share = median(std::move(shares));
    }

    void setSpread(std::span<const OwnGap> gaps) {
        std::map<int, std::vector<double>> bySegment;
        std::vector<double> all;
        for (const OwnGap& gap : gaps)
            if (const auto usual = extraAfter(gap.span, gap.length, gap.lengthSeconds)) {
                const double left = (gap.extra - *usual) / gap.lengthSeconds;
                bySegment[gap.span].push_back(left);
                all.push_back(left);
            }
        const auto spread = [](const std::vector<double>& values) { return scaledMad(values); };
        spreadOfSegment = ofGroups(bySegment, spread);
        spreadOfTake = isEnough(all) ? scaledMad(all) : 0.0;
    }

    std::map<std::pair<int, int>, double> ofSegment; ///< seconds beyond the score's, by span and length
    std::map<int, double> ofTake;                    ///< the same, by length
    std::optional<double> share;                     ///< the same, of the length
    std::map<int, double> spreadOfSegment;           ///< of the length, by span
    double spreadOfTake = 0.0;
};

/// Silence between two notes from which on it is a breath, seconds.
double leastBreath(const ScoreNote& before, const ScoreNote& note, const TempoMap& tempo,
                   const UsualGaps& gaps) {
    constexpr double least = breathGapMs / msPerSecond;
    const double length = scoreSeconds(tempo, note.onset) - scoreSeconds(tempo, before.onset);
    const auto usual = gaps.extraAfter(before.span, before.length, length);
    if (!usual && !isDetached(before))
        return least;
    const double share = usual ? std::min(detachedSlackShare, breathSpreads * gaps.spreadShare(before.span))
                               : detachedSlackShare;
    const double asked = askedGap(before, note, tempo);
    return std::max(asked, std::max(0.0, asked + usual.value_or(0.0)) + std::max(least, share * length));
}

void markBreaths(std::span<NoteResult> notes, std::span<const std::optional<double>> silence,
                 const Score& score, const TempoMap& tempo) {
    const UsualGaps gaps(notes, silence, score, tempo);
    for (std::size_t i = 1; i < notes.size(); ++i)
        if (silence[i] && *silence[i] > leastBreath(scoreNote(score, notes[i - 1]),
                                                    scoreNote(score, notes[i]), tempo, gaps))
            notes[i].breathBefore = true;
}

void setDeviations(std::span<NoteResult> notes, const Score& score, const TempoMap& tempo) {
    std::vector<double> times;
    std::vector<double> deviations;
    for (NoteResult& note : notes) {
        note.rawDeviationMs = note.deviationMs = note.ioiResidualMs = std::nullopt;
        if (!note.onsetSeconds)
            continue;
        times.push_back(scoreSeconds(tempo, scoreNote(score, note).onset));
        deviations.push_back((*note.onsetSeconds - times.back()) * msPerSecond);
        note.rawDeviationMs = deviations.back();
    }
    if (times.size() < static_cast<std::size_t>(minNotesForLine))
        return;
    const Line line = robustLine(times, deviations);
    std::size_t timed = 0;
    for (NoteResult& note : notes)
        if (note.rawDeviationMs)
            note.deviationMs = *note.rawDeviationMs - line.at(times[timed++]);
    for (std::size_t i = 1; i < notes.size(); ++i)
        if (notes[i].deviationMs && notes[i - 1].deviationMs && follows(score, notes[i - 1], notes[i]))
            notes[i].ioiResidualMs = *notes[i].deviationMs - *notes[i - 1].deviationMs;
}

std::vector<double> present(std::span<const NoteResult> notes, std::optional<double> NoteResult::*measure) {
    std::vector<double> values;
    for (const NoteResult& note : notes)
        if (note.*measure)
            values.push_back(*(note.*measure));
    return values;
}

/// Intervals that begin with long and with short notes, in played time per score time, so that a change of
/// the guide's tempo between them does not count.
std::optional<Estimate> longShortRatio(std::span<const NoteResult> notes, const Score& score,
                                       const TempoMap& tempo) {
    std::vector<double> longs;
    std::vector<double> shorts;
    for (std::size_t i = 1; i < notes.size(); ++i) {
        const NoteResult& before = notes[i - 1];
        if (!before.onsetSeconds || !notes[i].onsetSeconds || !follows(score, before, notes[i]))
            continue;
        const ScoreNote& first = scoreNote(score, before);
        const ScoreNote& second = scoreNote(score, notes[i]);
        const double asked = scoreSeconds(tempo, second.onset) - scoreSeconds(tempo, first.onset);
        const double played = *notes[i].onsetSeconds - *before.onsetSeconds;
        if (played <= 0.0 || asked <= 0.0)
            continue;
        const double ticks = played * static_cast<double>(second.onset - first.onset) / asked;
        if (first.isLong)
            longs.push_back(ticks);
        else if (first.isShort)
            shorts.push_back(ticks);
    }
    return ratioEstimate(longs, shorts);
}

std::optional<double> targetRatio(const Score& score, const ScoreSpan& span) {
    const auto first = score.notes.begin() + span.firstNote;
    const auto last = first + span.noteCount;
    const auto longNote = std::find_if(first, last, [](const ScoreNote& note) { return note.isLong; });
    const auto shortNote = std::find_if(first, last, [](const ScoreNote& note) { return note.isShort; });
    if (longNote == last || shortNote == last || shortNote->length <= 0)
        return std::nullopt;
    return static_cast<double>(longNote->length) / shortNote->length;
}

std::optional<Estimate> inPercentOf(std::optional<Estimate> ms, double wholeMs) {
    if (!ms || wholeMs <= 0.0)
        return std::nullopt;
    const double scale = 100.0 / wholeMs;
    return Estimate{ms->value * scale, ms->low * scale, ms->high * scale, ms->n};
}

/// What the source's own noise adds to the variance of onsets and of intervals, ms^2: means over the notes
/// that have them.
struct NoiseVariance {
    double onset = 0.0;
    double interval = 0.0;
};

NoiseVariance noiseVariance(std::span<const NoteResult> notes, std::span<const double> noiseMs) {
    NoiseVariance sum;
    double onsets = 0.0;
    double intervals = 0.0;
    if (noiseMs.empty())
        return sum;
    double before = 0.0;
    for (const NoteResult& note : notes) {
        const double noise = noiseMs[static_cast<std::size_t>(note.index)];
        if (note.deviationMs) {
            sum.onset += noise * noise;
            ++onsets;
        }
        if (note.ioiResidualMs) {
            sum.interval += noise * noise + before * before;
            ++intervals;
        }
        before = noise;
    }
    return {sum.onset / std::max(1.0, onsets), sum.interval / std::max(1.0, intervals)};
}

std::optional<Estimate> withoutNoise(std::optional<Estimate> spread, double variance) {
    const auto less = [variance](double value) { return std::sqrt(std::max(0.0, value * value - variance)); };
    if (spread && variance > 0.0) {
        spread->value = less(spread->value);
        spread->low = less(spread->low);
        spread->high = less(spread->high);
    }
    return spread;
}

void setEstimates(SegmentResult& result, std::span<const NoteResult> notes, const Score& score,
                  const ScoreSpan& span, const TempoMap& tempo, std::span<const double> noiseMs) {
    const NoiseVariance noise = noiseVariance(notes, noiseMs);
    const double quarters = noteValueTicks(score, span) / ticksPerQuarter;
    const double bpm = tempo.bpmAt(quartersOf(span.start));
    result.asynchronyMs = medianEstimate(present(notes, &NoteResult::rawDeviationMs));
    result.onsetSpreadMs =
        withoutNoise(residualSpreadEstimate(present(notes, &NoteResult::deviationMs)), noise.onset);
    result.ioiSpreadMs =
        withoutNoise(residualSpreadEstimate(present(notes, &NoteResult::ioiResidualMs)), noise.interval);
    result.ioiSpreadPercent =
        inPercentOf(result.ioiSpreadMs, quarters * secondsPerMinute / bpm * msPerSecond);
    result.targetRatio = targetRatio(score, span);
    if (result.targetRatio)
        result.longShortRatio = longShortRatio(notes, score, tempo);
}

SegmentResult measureSegment(std::span<NoteResult> notes, std::size_t spanIndex, int extras,
                             const Score& score, const TempoMap& tempo, std::span<const double> noiseMs) {
    const ScoreSpan& span = score.spans[spanIndex];
    setDeviations(notes, score, tempo);
    SegmentResult result;
    result.span = static_cast<int>(spanIndex);
    result.rung = span.rung;
    result.segment = span.segment;
    countNotes(result, notes, extras);
    setEstimates(result, notes, score, span, tempo, noiseMs);
    return result;
}

std::vector<int> extrasPerSpan(const Performance& performance, const Score& score) {
    std::vector<int> counts(score.spans.size(), 0);
    for (const ExtraNote& extra : performance.extras)
        ++counts[static_cast<std::size_t>(score.notes[static_cast<std::size_t>(extra.nearIndex)].span)];
    return counts;
}

void note(Absences& absences, const SegmentResult& result) {
    if (!result.played) {
        ++absences.unplayed;
        return;
    }
    absences.withoutLine += result.right + result.wrong < minNotesForLine;
    absences.withoutSpread += !result.onsetSpreadMs || !result.ioiSpreadMs;
    absences.withoutRatio += result.targetRatio && !result.longShortRatio;
}

void addRemark(Performance& performance, const AbsentMeasure& absent) {
    if (std::ranges::find(performance.remarks, Remark(absent)) == performance.remarks.end())
        performance.remarks.emplace_back(absent);
}

void addRemarks(Performance& performance, const Absences& absences) {
    using What = AbsentMeasure::What;
    if (absences.unplayed > 0)
        addRemark(performance, {What::notes, absences.unplayed});
    if (absences.withoutLine > 0)
        addRemark(performance, {What::deviations, absences.withoutLine, minNotesForLine});
    if (absences.withoutSpread > 0)
        addRemark(performance, {What::spread, absences.withoutSpread, minObservations});
    if (absences.withoutRatio > 0)
        addRemark(performance, {What::longShortRatio, absences.withoutRatio});
    if (!performance.asynchronyMs && performance.measured())
        addRemark(performance, {What::asynchrony, 0, minObservations});
}

int extrasBeside(const Performance& performance, std::span<const NoteResult> notes) {
    if (notes.empty())
        return 0;
    return static_cast<int>(std::ranges::count_if(performance.extras, [&](const ExtraNote& extra) {
        return extra.nearIndex >= notes.front().index && extra.nearIndex <= notes.back().index;
    }));
}

} // namespace

void countNotes(SegmentResult& segment, std::span<const NoteResult> notes, int extras) {
    segment.expected = static_cast<int>(notes.size());
    segment.right = segment.wrong = segment.missed = segment.breaths = 0;
    segment.extra = extras;
    for (const NoteResult& note : notes) {
        segment.right += note.outcome == Outcome::right;
        segment.wrong += note.outcome == Outcome::wrong;
        segment.missed += note.outcome == Outcome::missed;
        segment.breaths += note.breathBefore;
    }
    segment.played = segment.right + segment.wrong > 0;
    segment.clean = segment.right == segment.expected && segment.extra == 0 && segment.breaths == 0;
}

double scoreSeconds(const TempoMap& tempo, Tick tick) {
    return tempo.secondsAt(quartersOf(tick));
}

double noteValueTicks(const Score& score, const ScoreSpan& span) {
    const auto length = [&](int note) {
        return score.notes[static_cast<std::size_t>(span.firstNote + note)].length;
    };
    // The last note is left out of the search: it may be held to the end of the segment.
    const int compared = std::max(1, span.noteCount - 1);
    int period = 1;
    const auto repeats = [&] {
        for (int i = 0; i + period < compared; ++i)
            if (length(i) != length(i + period))
                return false;
        return true;
    };
    while (period < compared && !repeats())
        ++period;
    double sum = 0.0;
    for (int i = 0; i < period; ++i)
        sum += length(i);
    return sum / period;
}

void countNotesAgain(Performance& performance) {
    std::size_t expected = 0;
    for (const SegmentResult& segment : performance.segments)
        expected += static_cast<std::size_t>(std::max(0, segment.expected));
    if (expected != performance.notes.size())
        return;
    std::span<const NoteResult> rest(performance.notes);
    for (SegmentResult& segment : performance.segments) {
        const auto notes = rest.first(static_cast<std::size_t>(std::max(0, segment.expected)));
        rest = rest.subspan(notes.size());
        countNotes(segment, notes, extrasBeside(performance, notes));
    }
}

void fillMeasures(Performance& performance, const Score& score, const TempoMap& tempo,
                  std::span<const double> onsetNoiseMs) {
    dropOutside(performance, score);
    const std::vector<std::optional<double>> silence = silences(performance, score);
    const std::vector<int> extras = extrasPerSpan(performance, score);
    std::map<int, int> earlierTries; // by span
    for (const SegmentResult& segment : performance.segments)
        earlierTries[segment.span] = segment.earlierTries;
    performance.segments.clear();
    Absences absences;
    const std::span<NoteResult> all(performance.notes);
    markBreaths(all, silence, score, tempo);
    for (std::size_t begin = 0, end = 0; begin < all.size(); begin = end) {
        const auto span = static_cast<std::size_t>(scoreNote(score, all[begin]).span);
        while (end < all.size() && static_cast<std::size_t>(scoreNote(score, all[end]).span) == span)
            ++end;
        const auto notes = all.subspan(begin, end - begin);
        performance.segments.push_back(measureSegment(notes, span, extras[span], score, tempo, onsetNoiseMs));
        performance.segments.back().earlierTries = earlierTries[static_cast<int>(span)];
        note(absences, performance.segments.back());
    }
    const std::vector<double> raw = present(all, &NoteResult::rawDeviationMs);
    performance.asynchronyMs = medianEstimate(raw);
    performance.asynchronySpreadMs = spreadEstimate(raw);
    addRemarks(performance, absences);
}

} // namespace valveladder
