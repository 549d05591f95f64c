#include "Valves/Interval.h"

#include "Base/Units.h"

#include <cmath>

namespace valveladder {

double frequencyRatio(double semitones) {
    return std::exp2(semitones / semitonesAnOctave);
}

double semitonesOf(double ratio) {
    return semitonesAnOctave * std::log2(ratio);
}

double centsOf(double ratio) {
    return centsPerOctave * std::log2(ratio);
}

} // namespace valveladder
