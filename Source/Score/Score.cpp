#include "Score/Score.h"

#include "Base/Units.h"
#include "Ladder/PitchNames.h"
#include "Tempo/TempoMap.h"
#include "Valves/Fingering.h"
#include "Valves/Spelling.h"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>
#include <numeric>

namespace valveladder {

namespace {

// Velocities of the guide by touch; an accent adds to them. Chosen by ear on a General MIDI piano, no source.
constexpr int firmVelocity = 92;
constexpr int relaxedVelocity = 64;
constexpr int accentVelocity = 24;

// Sounding share of a note's rhythmic length in the guide.
constexpr double slurredGate = 1.0;
constexpr double accentedTonguedGate = 0.9;
constexpr double tonguedGate = 0.75;

/// Of a rest in seconds. MIDI files and hosts hold a tempo to a few millionths: what fills whole beats at 72
/// must do so at 72.00003.
constexpr double forgivenBeats = 1e-3;

Tick roundUp(Tick value, Tick step) {
    return (value + step - 1) / step * step;
}

/// Length of a note in a rhythm's cycle, in ticks; the remainders of an inexact ratio go to the cycle's last
/// note.
int shareTicks(const Rhythm& rhythm, int noteTicks, std::size_t index) {
    const auto total = std::accumulate(rhythm.shares.begin(), rhythm.shares.end(), Tick{0});
    const auto cycle = static_cast<Tick>(rhythm.shares.size()) * noteTicks;
    const auto before = std::accumulate(rhythm.shares.begin(),
                                        rhythm.shares.begin() + static_cast<std::ptrdiff_t>(index), Tick{0});
    const Tick from = before * cycle / total;
    const Tick to = (before + rhythm.shares[index]) * cycle / total;
    return static_cast<int>(to - from);
}

bool isAccented(const Segment& segment, int noteIndex, Tick fromSpanStart, int groupTicks, bool isLong) {
    switch (segment.accents.rule) {
    case AccentRule::none:
        return false;
    case AccentRule::everyNote:
        return true;
    case AccentRule::longNotes:
        return isLong;
    case AccentRule::firstOfGroup:
        return fromSpanStart % groupTicks == 0;
    case AccentRule::drift:
        return noteIndex % segment.accents.group == 0;
    }
    return false;
}

class ScoreBuilder {
public:
    ScoreBuilder(const Drill& d, const Instrument& i, double tempo) : drill(d), instrument(i), bpm(tempo) {}

    Result<Score> build() {
        score.meter = drill.meter;
        score.bpm = bpm;
        score.countInTicks = static_cast<Tick>(drill.countInBars) * drill.meter.barTicks();
        for (const Segment& segment : drill.segments)
            score.segmentNames.push_back(segment.name);
        addFundamentals();
        const std::vector<Rung> all = rungs(drill);
        for (std::size_t rung = 0; rung < all.size(); ++rung)
            score.rungLabels.push_back(withPitchNames(all[rung].label, {writtenSpelling(drill, instrument)}));
        Tick at = score.countInTicks;
        for (int rung = 0; rung < static_cast<int>(all.size()); ++rung)
            at = addRung(all[static_cast<std::size_t>(rung)], rung, at);
        score.length = roundUp(score.spans.back().end, drill.meter.barTicks());
        // A rest follows the last segment too, so that a repeated drill leaves a breath before its count-in.
        if (score.length - score.spans.back().end < restTicks(drill.rest) && drill.countInBars == 0)
            score.length = roundUp(score.spans.back().end + restTicks(drill.rest), drill.meter.barTicks());
        return std::move(score);
    }

private:
    void addFundamentals() {
        for (std::size_t bits = 0; bits < score.fundamentals.size(); ++bits) {
            const Combination combination(static_cast<std::uint8_t>(bits));
            const bool thumb = instrument.thumbValve && combination.has(maxValves);
            const Side& side = instrument.sides[thumb ? 1 : 0];
            const Combination fingers(static_cast<std::uint8_t>(instrument.thumbValve ? bits & 0x07U : bits));
            if (instrument.valves == maxValves || !combination.has(maxValves))
                score.fundamentals[bits] =
                    instrument.sounding(side.fundamental) -
                    loweringCents(side, instrument.compensation, fingers) / centsPerSemitone;
        }
    }

    /// Lays all segments of a rung; returns where the next rung starts.
    Tick addRung(const Rung& rung, int index, Tick at) {
        const int last = static_cast<int>(drill.segments.size()) - 1;
        for (int segment = 0; segment <= last; ++segment) {
            const bool ownRest = segment == last && rung.restAfter;
            at = nextStart(addSpan(rung, index, segment, at), ownRest ? *rung.restAfter : drill.rest);
        }
        return at;
    }

    /// Lays one segment; returns its end.
    Tick addSpan(const Rung& rung, int rungIndex, int segmentIndex, Tick start) {
        const Segment& segment = drill.segments[static_cast<std::size_t>(segmentIndex)];
        ScoreSpan span{rungIndex, segmentIndex, static_cast<int>(score.notes.size()), 0, start, start};
        for (int repeat = 0; repeat < drill.repeats; ++repeat)
            for (std::size_t i = 0; i < rung.notes.size(); ++i)
                addNote(segment, span, rung.notes[i], rung.valvesOf(i));
        score.spans.push_back(span);
        return span.end;
    }

    [[nodiscard]] std::optional<Fingering> fingeringFor(const ScoreSpan& span, MidiNote written,
                                                        std::optional<Combination> asked) const {
        if (asked)
            return fingeringOf(instrument, written, *asked);
        return chooseFingering(instrument, written, drill.fingering,
                               {span.rung, span.segment, span.noteCount});
    }

    void addNote(const Segment& segment, ScoreSpan& span, MidiNote written,
                 std::optional<Combination> asked) {
        const auto shareIndex = static_cast<std::size_t>(span.noteCount) % segment.rhythm.shares.size();
        const auto fingering = fingeringFor(span, written, asked);
        ScoreNote note;
        note.onset = span.end;
        note.length = shareTicks(segment.rhythm, drill.noteTicks, shareIndex);
        note.written = written;
        note.sounding = instrument.sounding(written);
        note.combination = fingering->combination;
        note.predictedCents = fingering->cents;
        setLongShort(note, segment.rhythm, shareIndex);
        note.accent = isAccented(segment, span.noteCount, note.onset - span.start,
                                 segment.accents.group * drill.noteTicks, note.isLong);
        note.velocity = (segment.touch == Touch::firm ? firmVelocity : relaxedVelocity) +
                        (note.accent ? accentVelocity : 0);
        note.slurFromPrevious = segment.slurred && span.noteCount > 0;
        const double gate = segment.slurred ? slurredGate : (note.accent ? accentedTonguedGate : tonguedGate);
        note.gate = std::max(1, static_cast<int>(std::lround(note.length * gate)));
        note.rung = span.rung;
        note.segment = span.segment;
        note.span = static_cast<int>(score.spans.size());
        span.end += note.length;
        ++span.noteCount;
        score.notes.push_back(note);
    }

    static void setLongShort(ScoreNote& note, const Rhythm& rhythm, std::size_t shareIndex) {
        if (rhythm.isEven())
            return;
        const auto [shortest, longest] = std::minmax_element(rhythm.shares.begin(), rhythm.shares.end());
        note.isLong = rhythm.shares[shareIndex] == *longest;
        note.isShort = rhythm.shares[shareIndex] == *shortest;
    }

    [[nodiscard]] Tick restTicks(const Rest& rest) const {
        const double beatSeconds = secondsOf(drill.meter.beatTicks(), bpm);
        const double beats = rest.unit == Rest::Unit::beats
                                 ? rest.amount
                                 : std::ceil(rest.amount / beatSeconds - forgivenBeats);
        return std::llround(beats * drill.meter.beatTicks());
    }

    [[nodiscard]] Tick nextStart(Tick end, const Rest& rest) const {
        const Tick start = end + restTicks(rest);
        return rest.toNextBar ? roundUp(start, drill.meter.barTicks()) : start;
    }

    const Drill& drill;
    const Instrument& instrument;
    double bpm;
    Score score;
};

} // namespace

bool Score::sameLayout(const Score& other) const {
    return notes == other.notes && spans == other.spans && rungLabels == other.rungLabels &&
           segmentNames == other.segmentNames && meter == other.meter && countInTicks == other.countInTicks &&
           length == other.length;
}

Change Score::changeInto(int index) const {
    const ScoreNote& note = notes[static_cast<std::size_t>(index)];
    const bool first = index == spans[static_cast<std::size_t>(note.span)].firstNote;
    return {first ? note.combination : notes[static_cast<std::size_t>(index - 1)].combination,
            note.combination};
}

std::size_t Score::noteAt(Tick tick) const {
    const auto after = std::upper_bound(notes.begin(), notes.end(), tick,
                                        [](Tick t, const ScoreNote& note) { return t < note.onset; });
    const auto next = static_cast<std::size_t>(after - notes.begin());
    if (next > 0 && tick < notes[next - 1].onset + notes[next - 1].length)
        return next - 1;
    return next;
}

Result<Score> buildScore(const Drill& drill, const Instrument& instrument, double bpm) {
    if (!(bpm >= minBpm && bpm <= maxBpm))
        return Problem{fmt::format("the tempo is outside {:g} to {:g} quarters a minute", minBpm, maxBpm),
                       "tempo", "choose a tempo within that range"};
    if (auto valid = checked(instrument); !valid)
        return valid.problem();
    if (auto valid = checked(drill, instrument); !valid)
        return valid.problem();
    return ScoreBuilder(drill, instrument, bpm).build();
}

std::vector<BreathWarning> breathWarnings(const Score& score, const Drill& drill, double bpm) {
    std::vector<BreathWarning> warnings;
    for (const ScoreSpan& span : score.spans) {
        const double seconds = secondsOf(span.end - span.start, bpm);
        if (seconds <= drill.breathSeconds)
            continue;
        warnings.push_back({score.rungLabels[static_cast<std::size_t>(span.rung)], span.segment, seconds, bpm,
                            drill.breathSeconds});
    }
    return warnings;
}

} // namespace valveladder
