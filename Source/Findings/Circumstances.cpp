#include "Findings/Circumstances.h"

#include "Valves/Interval.h"

#include <cstdlib>

namespace valveladder::circumstances {

namespace {

constexpr double middleC = 60.0;

double one(bool is) {
    return is ? 1.0 : 0.0;
}

} // namespace

Eigen::RowVectorXd row(const ChangeEvidence& kind) {
    const double octaves = (static_cast<double>(kind.written) - middleC) / semitonesAnOctave;
    Eigen::RowVectorXd terms(count);
    terms[relaxedTouch] = one(kind.touch == Touch::relaxed);
    terms[longNote] = one(kind.place == RhythmPlace::longNote);
    terms[shortNote] = one(kind.place == RhythmPlace::shortNote);
    terms[fingersMoved] = static_cast<double>(kind.change.fingersMoved());
    terms[goingDown] = one(kind.interval < 0);
    terms[interval] = static_cast<double>(std::abs(kind.interval));
    terms[partialJump] = static_cast<double>(std::abs(kind.partialJump));
    terms[pitch] = octaves;
    terms[pitchSquared] = octaves * octaves;
    terms[accent] = one(kind.sinceAccent == 0);
    terms[afterAccent] = one(kind.sinceAccent == 1);
    terms[secondAfterAccent] = one(kind.sinceAccent == 2);
    terms[offBeat] = one(kind.offBeat);
    terms[firstOfSegment] = one(kind.first);
    return terms;
}

} // namespace valveladder::circumstances
