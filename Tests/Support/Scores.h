#pragma once

#include "Score/Score.h"

#include <vector>

namespace valveladder::test {

/// A note of a score laid out by hand, in quarters.
struct SmallNote {
    double onset = 0.0;
    double length = 1.0;
    MidiNote sounding = 60;
    Combination combination;
    int velocity = 80;
};

/// Notes as one span in 4/4; `quarters` long; the count-in lasts to the first note's bar.
[[nodiscard]] Score smallScore(const std::vector<SmallNote>& notes, double quarters = 8.0,
                               double countInQuarters = 4.0);

/// The daily ladder upwards only: short, each note of a segment another one.
[[nodiscard]] Drill ladderUp(const Instrument& instrument);

/// The first rung of the default drill alone. `slurred`: every segment of it.
[[nodiscard]] Score oneRung(const Instrument& instrument, double bpm, bool slurred = true);

/// The ladder upwards on a B flat trumpet.
[[nodiscard]] Score ladderScore(double bpm = 60.0);

/// Drills that differ in whatever changes a guide: rhythm, meter, count-in, tonguing, fingerings, length.
[[nodiscard]] std::vector<Score> variedScores();

} // namespace valveladder::test
