#include "Listening/ValveSensors.h"

#include "Base/Units.h"
#include "Listening/Measures.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <span>
#include <tuple>

namespace valveladder {

namespace {

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

    /// The movements that lead from one combination to the other within [begin, end); empty when none do.
    [[nodiscard]] std::span<const ValveMove> change(const Change& asked, double begin, double end) const {
        if (agree(asked.from, asked.to))
            return {};
        std::optional<std::size_t> leaving;
        for (std::size_t i = firstFrom(begin); i < moves.size() && moves[i].seconds < end; ++i) {
            if (agree(states[i], asked.from) && holds(i))
                leaving = i;
            if (leaving && agree(states[i + 1], asked.to) && holds(i + 1))
                return std::span(moves).subspan(*leaving, i + 1 - *leaving);
        }
        return {};
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
    [[nodiscard]] std::size_t firstFrom(double seconds) const {
        const auto at = std::ranges::lower_bound(moves, seconds, {}, &ValveMove::seconds);
        return static_cast<std::size_t>(at - moves.begin());
    }
    /// Whether the state before move `index` is settled.
    [[nodiscard]] bool holds(std::size_t index) const {
        return index == 0 || index == moves.size() ||
               moves[index].seconds - moves[index - 1].seconds >= sensorSettleSeconds;
    }

    std::vector<ValveMove> moves;
    std::vector<Combination> states; ///< before move i; the last one after all
    Combination known;
};

const ScoreNote& scoreNote(const Score& score, const NoteResult& note) {
    return score.notes[static_cast<std::size_t>(note.index)];
}

/// When each note began or, where it was missed, would have begun with the lateness of the note before.
std::vector<double> anchors(const Performance& performance, const Score& score, const TempoMap& tempo) {
    std::vector<double> seconds;
    seconds.reserve(performance.notes.size());
    double late = 0.0;
    for (const NoteResult& note : performance.notes) {
        const double asked = scoreSeconds(tempo, scoreNote(score, note).onset);
        if (note.onsetSeconds)
            late = *note.onsetSeconds - asked;
        seconds.push_back(asked + late);
    }
    return seconds;
}

/// The movements of a change; empty when it cannot be measured. `begin`, `onset` and `end`: of the note
/// before, of the note, and of the note after.
std::span<const ValveMove> movesOf(const Change& asked, const ValveTimeline& timeline, double begin,
                                   double onset, double end) {
    const auto moves = timeline.change(asked, begin, end);
    const bool away = !moves.empty() && (moves.front().seconds < onset - sensorReachSeconds ||
                                         moves.back().seconds > onset + sensorReachSeconds);
    return away ? std::span<const ValveMove>{} : moves;
}

/// ChangeResult::lateFingers and lateByMs.
void fillLate(ChangeResult& result, std::span<const ValveMove> moves) {
    std::size_t pause = 1; // before this movement
    const auto lengthOf = [&](std::size_t i) { return moves[i].seconds - moves[i - 1].seconds; };
    for (std::size_t i = 2; i < moves.size(); ++i)
        if (lengthOf(i) > lengthOf(pause))
            pause = i;
    unsigned late = 0;
    for (const ValveMove& move : moves.subspan(pause))
        late |= 1U << (move.valve - 1);
    const unsigned moved = result.change.pressed().bits() | result.change.released().bits();
    late &= moved;
    if (late == 0 || late == moved)
        return;
    result.lateFingers = Combination(static_cast<std::uint8_t>(late));
    result.lateByMs = lengthOf(pause) * msPerSecond;
}

void fill(ChangeResult& result, std::span<const ValveMove> moves) {
    result.fromSensors = true;
    for (const ValveMove& move : moves)
        result.fingerMs[static_cast<std::size_t>(move.valve - 1)] =
            (move.seconds - moves.front().seconds) * msPerSecond;
    if (moves.size() > 1) {
        result.changeoverMs = (moves.back().seconds - moves.front().seconds) * msPerSecond;
        fillLate(result, moves);
    }
}

/// When the note after each begins or, after the last of a segment, when it ends.
std::vector<double> endsOf(const Performance& performance, const Score& score, const TempoMap& tempo,
                           const std::vector<double>& onsets) {
    std::vector<double> ends;
    for (std::size_t i = 0; i < onsets.size(); ++i) {
        const ScoreNote& asked = scoreNote(score, performance.notes[i]);
        const bool inside =
            i + 1 < onsets.size() && scoreNote(score, performance.notes[i + 1]).span == asked.span;
        ends.push_back(inside ? onsets[i + 1]
                              : onsets[i] + scoreSeconds(tempo, asked.onset + asked.length) -
                                    scoreSeconds(tempo, asked.onset));
    }
    return ends;
}

} // namespace

void measureValves(Performance& performance, const Score& score, const TempoMap& tempo,
                   std::vector<ValveMove> moves) {
    const ValveTimeline timeline(std::move(moves));
    const std::vector<double> onsets = anchors(performance, score, tempo);
    const std::vector<double> ends = endsOf(performance, score, tempo, onsets);
    // What the fingers pass through in a measured change is not what they settled on.
    std::vector<double> settledFrom = onsets;
    std::vector<double> settledTo = ends;
    auto change = performance.changes.begin();
    for (std::size_t i = 0; i < performance.notes.size(); ++i) {
        const NoteResult& note = performance.notes[i];
        if (change == performance.changes.end() || change->toIndex != note.index)
            continue;
        if (note.onsetSeconds && performance.notes[i - 1].onsetSeconds) {
            const auto path = movesOf(change->change, timeline, onsets[i - 1], onsets[i], ends[i]);
            if (!path.empty()) {
                fill(*change, path);
                settledTo[i - 1] = std::min(settledTo[i - 1], path.front().seconds);
                settledFrom[i] = std::max(settledFrom[i], path.back().seconds);
            }
        }
        ++change;
    }
    for (std::size_t i = 0; i < performance.notes.size(); ++i) {
        NoteResult& note = performance.notes[i];
        note.valvesWrong = note.onsetSeconds && settledTo[i] > settledFrom[i] &&
                           !timeline.agree(timeline.settled(settledFrom[i], settledTo[i]),
                                           scoreNote(score, note).combination);
    }
}

} // namespace valveladder
