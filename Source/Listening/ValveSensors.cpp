#include "Listening/ValveSensors.h"

#include "Listening/Measures.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <span>
#include <tuple>

namespace valveladder {

namespace {

constexpr double msPerSecond = 1000.0;

Combination withValve(Combination combination, int valve, bool pressed) {
    const unsigned bit = 1U << (valve - 1);
    const unsigned bits = combination.bits();
    return Combination(static_cast<std::uint8_t>(pressed ? bits | bit : bits & ~bit));
}

/// The combination over time, from what the sensors sent.
class ValveTimeline {
public:
    explicit ValveTimeline(std::vector<ValveMove> raw) {
        std::erase_if(raw, [](const ValveMove& move) {
            return !std::isfinite(move.seconds) || move.valve < 1 || move.valve > maxValves;
        });
        std::ranges::sort(raw, {}, [](const ValveMove& move) {
            return std::tuple(move.seconds, move.valve, move.pressed);
        });
        Combination state;
        // A valve whose first message is a release was held down before the take began.
        for (const ValveMove& move : raw) {
            if (!known.has(move.valve))
                state = withValve(state, move.valve, !move.pressed);
            known = withValve(known, move.valve, true);
        }
        states.push_back(state);
        for (const ValveMove& move : raw) {
            if (state.has(move.valve) == move.pressed)
                continue;
            state = withValve(state, move.valve, move.pressed);
            moves.push_back(move);
            states.push_back(state);
        }
    }

    /// Index of the first move at or after `seconds`; its state before it is stateBefore(index).
    [[nodiscard]] std::size_t firstFrom(double seconds) const {
        const auto at = std::ranges::lower_bound(moves, seconds, {}, &ValveMove::seconds);
        return static_cast<std::size_t>(at - moves.begin());
    }
    [[nodiscard]] Combination stateBefore(std::size_t index) const { return states[index]; }
    [[nodiscard]] std::span<const ValveMove> between(std::size_t begin, std::size_t end) const {
        return std::span(moves).subspan(begin, end - begin);
    }
    /// Equal as far as the valves that sent anything go.
    [[nodiscard]] bool agree(Combination a, Combination b) const {
        return ((a.bits() ^ b.bits()) & known.bits()) == 0;
    }
    /// The combination that held longest within [begin, end).
    [[nodiscard]] Combination settled(double begin, double end) const {
        std::array<double, 16> held{};
        std::size_t next = firstFrom(begin);
        for (double from = begin; from < end; ++next) {
            const double to = next < moves.size() ? std::min(moves[next].seconds, end) : end;
            held[states[next].bits()] += to - from;
            from = to;
        }
        const auto longest = std::ranges::max_element(held);
        return Combination(static_cast<std::uint8_t>(longest - held.begin()));
    }

private:
    std::vector<ValveMove> moves;
    std::vector<Combination> states; ///< before move i; the last one after all
    Combination known;
};

/// When each note began or, where it was missed, would have begun with the lateness of the note before.
std::vector<double> anchors(const Performance& performance, const Score& score, const TempoMap& tempo) {
    std::vector<double> seconds;
    seconds.reserve(performance.notes.size());
    double late = 0.0;
    for (const NoteResult& note : performance.notes) {
        const double asked = scoreSeconds(tempo, score.notes[static_cast<std::size_t>(note.index)].onset);
        if (note.onsetSeconds)
            late = *note.onsetSeconds - asked;
        seconds.push_back(asked + late);
    }
    return seconds;
}

void measureChange(ChangeResult& result, const ValveTimeline& timeline, double begin, double end) {
    const std::size_t first = timeline.firstFrom(begin);
    const std::size_t last = timeline.firstFrom(end);
    const auto moves = timeline.between(first, last);
    if (moves.empty() || !timeline.agree(timeline.stateBefore(first), result.change.from) ||
        !timeline.agree(timeline.stateBefore(last), result.change.to))
        return;
    result.fromSensors = true;
    for (const ValveMove& move : moves)
        result.fingerMs[static_cast<std::size_t>(move.valve - 1)] =
            (move.seconds - moves.front().seconds) * msPerSecond;
    if (moves.size() > 1)
        result.changeoverMs = (moves.back().seconds - moves.front().seconds) * msPerSecond;
}

} // namespace

void measureValves(Performance& performance, const Score& score, const TempoMap& tempo,
                   std::vector<ValveMove> moves) {
    const ValveTimeline timeline(std::move(moves));
    const std::vector<double> onsets = anchors(performance, score, tempo);
    const auto scoreNote = [&score](const NoteResult& note) -> const ScoreNote& {
        return score.notes[static_cast<std::size_t>(note.index)];
    };
    auto change = performance.changes.begin();
    for (std::size_t i = 0; i < performance.notes.size(); ++i) {
        NoteResult& note = performance.notes[i];
        const ScoreNote& asked = scoreNote(note);
        const bool lastInSpan =
            i + 1 == performance.notes.size() || scoreNote(performance.notes[i + 1]).span != asked.span;
        const double end = lastInSpan ? onsets[i] + scoreSeconds(tempo, asked.onset + asked.length) -
                                            scoreSeconds(tempo, asked.onset)
                                      : onsets[i + 1];
        note.valvesWrong = note.onsetSeconds.has_value() && end > onsets[i] &&
                           !timeline.agree(timeline.settled(onsets[i], end), asked.combination);
        if (change == performance.changes.end() || change->toIndex != note.index)
            continue;
        if (note.onsetSeconds && performance.notes[i - 1].onsetSeconds)
            measureChange(*change, timeline,
                          std::max((onsets[i - 1] + onsets[i]) / 2.0, onsets[i] - sensorReachSeconds),
                          std::min((onsets[i] + end) / 2.0, onsets[i] + sensorReachSeconds));
        ++change;
    }
}

} // namespace valveladder
