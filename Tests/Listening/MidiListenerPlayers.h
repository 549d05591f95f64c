#pragma once

#include "Support/Scores.h"

#include "Listening/Measures.h"
#include "Listening/MidiListener.h"
#include "Valves/Instrument.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cstdlib>
#include <map>
#include <random>
#include <set>

/// Simulated players for the MIDI listener's tests. Everything here is invented.
namespace valveladder::test {

inline const Instrument& trumpet() {
    return *findInstrument("trumpet-b-flat");
}

inline Score ladder(double bpm, Drill drill = ladderUp(trumpet())) {
    const Result<Score> score = buildScore(drill, trumpet(), bpm);
    EXPECT_TRUE(score.ok()) << (score.ok() ? "" : score.problem().text());
    return score.ok() ? score.value() : Score{};
}

/// One rung, one segment.
inline Drill oneSegment(Segment segment, int repeats = 1) {
    Drill drill = ladderUp(trumpet());
    drill.pattern = LadderPattern{54, 60, 60, Growth::shift, Shape::up};
    drill.segments = {std::move(segment)};
    drill.repeats = repeats;
    return drill;
}

inline double secondsOf(const Score& score, Tick tick) {
    return static_cast<double>(tick) / ticksPerQuarter * 60.0 / score.bpm;
}

struct Style {
    double lateMs = 0.0;
    double driftPercent = 0.0; ///< how much slower than the guide, about the middle of each segment
    double jitterMs = 0.0;     ///< standard deviation, cut at 2.5 of them
    double overlapMs = 0.0;    ///< of slurred notes
};

/// Notes as this player would play the score without a mistake: slurred notes last until the next begins.
/// Onsets keep their order, at least 10 ms apart, as on an instrument of one voice.
inline std::vector<PlayedNote> play(const Score& score, const Style& style, std::mt19937& random) {
    std::normal_distribution<double> normal;
    std::vector<PlayedNote> notes;
    for (const ScoreNote& note : score.notes) {
        const ScoreSpan& span = score.spans[static_cast<std::size_t>(note.span)];
        const double middle = (secondsOf(score, span.start) + secondsOf(score, span.end)) / 2.0;
        const double asked = secondsOf(score, note.onset);
        PlayedNote played;
        played.onset = asked + style.lateMs / 1000.0 + (asked - middle) * style.driftPercent / 100.0 +
                       std::clamp(normal(random), -2.5, 2.5) * style.jitterMs / 1000.0;
        if (!notes.empty())
            played.onset = std::max(played.onset, notes.back().onset + 0.01);
        played.offset = played.onset + secondsOf(score, note.gate);
        played.pitch = note.sounding;
        notes.push_back(played);
    }
    for (std::size_t i = 1; i < notes.size(); ++i)
        if (score.notes[i].slurFromPrevious)
            notes[i - 1].offset = notes[i].onset + style.overlapMs / 1000.0;
    return notes;
}

inline Performance listen(const Score& score, std::vector<PlayedNote> notes) {
    MidiTake take;
    take.notes = std::move(notes);
    return listenToMidi(score, TempoMap(score.bpm), take);
}

inline bool fullSize() {
    return std::getenv("VALVE_LADDER_FULL") != nullptr;
}

/// A ladder of random range, rhythm, note value, articulation and tempo (40 to 220 quarters a minute).
inline Score randomLadder(std::mt19937& random) {
    const auto pick = [&random](int low, int high) {
        return std::uniform_int_distribution<int>(low, high)(random);
    };
    Drill drill = ladderUp(trumpet());
    const int foot = pick(54, 60);
    const int top = foot + pick(3, 9);
    drill.pattern = LadderPattern{
        foot, top, top + pick(0, 3), pick(0, 1) == 1 ? Growth::shift : Growth::extend,
        std::array{Shape::up, Shape::upDown, Shape::downUp}[static_cast<std::size_t>(pick(0, 2))]};
    drill.noteTicks = pick(0, 1) == 1 ? ticksPerQuarter / 2 : ticksPerQuarter / 4;
    drill.repeats = pick(1, 2);
    const int ratio = pick(2, 3);
    for (Segment& segment : drill.segments) {
        segment.slurred = pick(0, 3) > 0;
        if (!segment.rhythm.isEven())
            segment.rhythm.shares =
                segment.rhythm.shares.front() > 1 ? std::vector{ratio, 1} : std::vector{1, ratio};
    }
    return ladder(pick(40, 220), drill);
}

/// The shortest note of a score, ms.
inline double shortestMs(const Score& score) {
    const auto shortest = std::ranges::min_element(score.notes, {}, &ScoreNote::length);
    return secondsOf(score, shortest->length) * 1000.0;
}

/// A player who keeps the order of notes: asynchrony within 100 ms, jitter of 20 ms or, where notes are too
/// short for that, a sixth of the shortest.
inline Style randomStyle(const Score& score, std::mt19937& random) {
    std::uniform_real_distribution<double> unit(-1.0, 1.0);
    Style style;
    style.lateMs = 100.0 * unit(random);
    style.driftPercent = 3.0 * unit(random);
    style.jitterMs = std::min(20.0, shortestMs(score) / 6.0) * std::abs(unit(random));
    style.overlapMs = 15.0 * std::abs(unit(random));
    return style;
}

enum class Fault { wrong, missed, extra, split };

/// Plants faults at random notes, at least `apart` notes from each other and from a segment's ends, into what
/// `play` made; returns which note has which.
inline std::map<int, Fault> plant(const Score& score, std::vector<PlayedNote>& notes, int apart, double share,
                                  std::mt19937& random) {
    std::map<int, Fault> faults;
    std::vector<PlayedNote> result;
    std::uniform_real_distribution<double> unit(0.0, 1.0);
    int last = -apart;
    for (int i = 0; i < static_cast<int>(notes.size()); ++i) {
        const auto at = static_cast<std::size_t>(i);
        PlayedNote note = notes[at];
        const bool inside =
            i + 1 < static_cast<int>(notes.size()) && score.notes[at + 1].span == score.notes[at].span;
        if (!inside || i - last < apart || unit(random) > share) {
            result.push_back(note);
            continue;
        }
        last = i;
        const auto fault = static_cast<Fault>(std::uniform_int_distribution<int>(0, 3)(random));
        faults[i] = fault;
        const int away = std::array{
            -3, -2, -1, 1, 2, 3}[static_cast<std::size_t>(std::uniform_int_distribution<int>(0, 5)(random))];
        const double half = note.onset + (notes[at + 1].onset - note.onset) * 0.5;
        if (fault == Fault::wrong)
            note.pitch += away;
        if (fault == Fault::missed) {
            // The note before is held, as when a valve was not moved.
            if (!result.empty() && score.notes[at - 1].span == score.notes[at].span &&
                score.notes[at].slurFromPrevious)
                result.back().offset = note.offset;
            continue;
        }
        result.push_back(note);
        if (fault == Fault::extra || fault == Fault::split) {
            const double end = note.offset;
            result.back().offset = half;
            result.push_back({half, std::max(end, half + 0.01),
                              fault == Fault::extra ? note.pitch + away : note.pitch, 64});
        }
    }
    notes = std::move(result);
    return faults;
}

} // namespace valveladder::test
