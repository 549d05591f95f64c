#include "Listening/Tuning.h"

#include "Valves/Pitch.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace valveladder {

double tuningFraction(std::span<const HeardNote> notes) {
    constexpr double mostSeconds = 0.5; // a longer note weighs no more; our choice, no source
    double x = 0.0;
    double y = 0.0;
    for (const HeardNote& note : notes) {
        const double angle = 2.0 * std::numbers::pi * note.midi;
        const double weight = std::min(note.settledSeconds, mostSeconds) * note.periodicity;
        x += weight * std::cos(angle);
        y += weight * std::sin(angle);
    }
    return x == 0.0 && y == 0.0 ? 0.0 : std::atan2(y, x) / (2.0 * std::numbers::pi);
}

double tuningHz(double semitones) {
    constexpr double a4 = 69.0;
    return frequencyHz(a4 + semitones);
}

std::vector<double> tuningCandidates(double fraction) {
    std::vector<double> shifts;
    for (const double whole : {0.0, -1.0, 1.0, -2.0, 2.0}) {
        const double hz = tuningHz(fraction + whole);
        if (hz >= lowestTuningHz && hz <= highestTuningHz)
            shifts.push_back(fraction + whole);
    }
    return shifts;
}

} // namespace valveladder
