#include "MidiListenerPlayers.h"

namespace valveladder {

namespace {

using namespace test;

/// Movements of a player whose finger `v` comes `fingerMs[v - 1]` after the change begins, and whose note
/// speaks 5 ms after the last one; the first combination is pressed 200 ms before its note.
std::vector<ValveMove> fingers(const Score& score, std::vector<PlayedNote>& notes,
                               const std::array<double, 4>& fingerMs) {
    std::vector<ValveMove> moves;
    Combination held;
    for (std::size_t i = 0; i < notes.size(); ++i) {
        const Change change{held, score.notes[i].combination};
        double last = 0.0;
        double first = 1e9;
        for (int valve = 1; valve <= maxValves; ++valve)
            if (change.pressed().has(valve) || change.released().has(valve)) {
                last = std::max(last, fingerMs[static_cast<std::size_t>(valve - 1)]);
                first = std::min(first, fingerMs[static_cast<std::size_t>(valve - 1)]);
            }
        const bool begins =
            score.changeInto(static_cast<int>(i)).from == score.changeInto(static_cast<int>(i)).to;
        const double start = notes[i].onset - (begins ? 0.2 : 0.005 + last / 1000.0);
        for (int valve = 1; valve <= maxValves; ++valve)
            if (change.pressed().has(valve) || change.released().has(valve))
                moves.push_back({start + fingerMs[static_cast<std::size_t>(valve - 1)] / 1000.0, valve,
                                 change.pressed().has(valve)});
        held = score.notes[i].combination;
    }
    return moves;
}

struct Sensed {
    Score score;
    MidiTake take;
};

Sensed sensed(double bpm, const std::array<double, 4>& fingerMs, const Style& style = {}) {
    Sensed result{ladder(bpm), {}};
    std::mt19937 random(11);
    result.take.notes = play(result.score, style, random);
    result.take.valves = fingers(result.score, result.take.notes, fingerMs);
    return result;
}

Performance hear(const Sensed& s, double roundTripMs = 0.0) {
    return listenToMidi(s.score, TempoMap(s.score.bpm), s.take, roundTripMs);
}

} // namespace

TEST(MidiSensors, ChangeoverAndFingersAreThoseOfThePlayer) {
    const std::array<double, 4> fingerMs{0.0, 12.0, 31.0, 0.0};
    for (const double bpm : {60.0, 120.0, 180.0}) {
        const Performance p = hear(sensed(bpm, fingerMs, {.lateMs = 40, .jitterMs = 5}));
        int several = 0;
        for (const ChangeResult& change : p.changes) {
            const int moved = change.change.fingersMoved();
            EXPECT_EQ(change.fromSensors, moved > 0);
            EXPECT_EQ(change.changeoverMs.has_value(), moved > 1);
            double first = 1e9;
            double last = 0.0;
            for (int valve = 1; valve <= maxValves; ++valve) {
                const bool moves = change.change.pressed().has(valve) || change.change.released().has(valve);
                const auto at = static_cast<std::size_t>(valve - 1);
                EXPECT_EQ(change.fingerMs[at].has_value(), moves);
                if (moves) {
                    first = std::min(first, fingerMs[at]);
                    last = std::max(last, fingerMs[at]);
                }
            }
            if (moved < 2)
                continue;
            ++several;
            EXPECT_NEAR(*change.changeoverMs, last - first, 1e-6);
            for (std::size_t at = 0; at < 4; ++at)
                if (change.fingerMs[at]) {
                    EXPECT_NEAR(*change.fingerMs[at], fingerMs[at] - first, 1e-6);
                }
            // Valve 3 comes 19 ms after 2, 2 comes 12 ms after 1.
            const bool third = change.fingerMs[2].has_value();
            EXPECT_EQ(change.lateFingers, Combination(third ? 0b100 : 0b010));
            EXPECT_NEAR(change.lateByMs.value_or(0.0), third ? (change.fingerMs[1] ? 19.0 : 31.0) : 12.0,
                        1e-6);
        }
        EXPECT_GT(several, 20);
        for (const NoteResult& note : p.notes)
            EXPECT_FALSE(note.valvesWrong) << note.index << " at " << bpm;
        EXPECT_TRUE(p.clean());
    }
}

TEST(MidiSensors, RoundTripIsSubtractedFromValvesToo) {
    Sensed s = sensed(90, {0, 10, 25, 0});
    const Performance before = hear(s);
    for (PlayedNote& note : s.take.notes) {
        note.onset += 0.4;
        note.offset += 0.4;
    }
    for (ValveMove& move : s.take.valves)
        move.seconds += 0.4;
    const Performance after = hear(s, 400.0);
    for (std::size_t i = 0; i < before.changes.size(); ++i) {
        ASSERT_EQ(before.changes[i].changeoverMs.has_value(), after.changes[i].changeoverMs.has_value());
        if (before.changes[i].changeoverMs) {
            EXPECT_NEAR(*before.changes[i].changeoverMs, *after.changes[i].changeoverMs, 1e-6);
        }
    }
}

TEST(MidiSensors, ValvesHeldSinceBeforeTheTakeAreKnownByTheirRelease) {
    Sensed s = sensed(90, {0, 10, 25, 0});
    const double firstOnset = s.take.notes.front().onset;
    std::erase_if(s.take.valves, [&](const ValveMove& move) { return move.seconds < firstOnset; });
    const Performance p = hear(s);
    for (const NoteResult& note : p.notes)
        EXPECT_FALSE(note.valvesWrong) << note.index;
}

TEST(MidiSensors, AnotherCombinationThanAskedForIsSaidAndItsChangesAreNotMeasured) {
    Sensed s = sensed(90, {0, 10, 25, 0});
    // Note 3 (A3, 1-2) with valve 3 instead: 1 and 2 are not pressed after 2-3, only 2 released.
    ASSERT_EQ(s.score.notes[3].combination.name(), "1-2");
    const double from = s.take.notes[3].onset - 0.15;
    const double to = s.take.notes[4].onset + 0.05;
    std::erase_if(s.take.valves,
                  [&](const ValveMove& move) { return move.seconds > from && move.seconds < to; });
    s.take.valves.push_back({s.take.notes[3].onset - 0.01, 2, false});
    s.take.valves.push_back({s.take.notes[4].onset - 0.02, 3, false});
    s.take.valves.push_back({s.take.notes[4].onset - 0.01, 1, true});
    const Performance p = hear(s);
    for (const NoteResult& note : p.notes)
        EXPECT_EQ(note.valvesWrong, note.index == 3) << note.index;
    for (const ChangeResult& change : p.changes)
        if (change.toIndex == 3 || change.toIndex == 4) {
            EXPECT_FALSE(change.changeoverMs);
            EXPECT_FALSE(change.fromSensors);
        }
    EXPECT_EQ(p.notes[3].outcome, Outcome::right);
}

TEST(MidiSensors, AFidgetInALongNoteBelongsToNoChange) {
    Sensed s = sensed(40, {0, 10, 25, 0}); // eighths of 750 ms
    const double at = s.take.notes[2].onset + 0.3;
    const bool held = s.score.notes[2].combination.has(1);
    s.take.valves.push_back({at, 1, !held});
    s.take.valves.push_back({at + 0.02, 1, held});
    const Performance with = hear(s);
    const Performance without = hear(sensed(40, {0, 10, 25, 0}));
    EXPECT_EQ(with.changes, without.changes);
    EXPECT_FALSE(with.notes[2].valvesWrong);
}

TEST(MidiSensors, RepeatedAndSenselessMessagesChangeNothing) {
    Sensed s = sensed(90, {0, 10, 25, 0});
    const Performance before = hear(s);
    const auto moves = s.take.valves;
    for (const ValveMove& move : moves)
        s.take.valves.push_back({move.seconds + 0.001, move.valve, move.pressed});
    s.take.valves.push_back({1.0, 0, true});
    s.take.valves.push_back({1.0, 9, true});
    s.take.valves.push_back({std::numeric_limits<double>::quiet_NaN(), 1, true});
    EXPECT_EQ(hear(s), before);
}

TEST(MidiSensors, AMissedNoteHasNoMeasuredChange) {
    Sensed s = sensed(90, {0, 10, 25, 0});
    s.take.notes.erase(s.take.notes.begin() + 2);
    const Performance p = hear(s);
    EXPECT_FALSE(p.notes[2].valvesWrong);
    for (const ChangeResult& change : p.changes)
        if (change.toIndex == 2 || change.toIndex == 3) {
            EXPECT_FALSE(change.fromSensors);
        }
}

} // namespace valveladder
