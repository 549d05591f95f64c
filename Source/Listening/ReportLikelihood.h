#pragma once

#include "Listening/Corrections.h"
#include "Listening/LateEvidence.h"

#include <array>
#include <span>

namespace valveladder {

/// What the sound shows of a report, beside that it is made. Of a missed note: of the sound that covers most
/// of its time, if there is one.
struct ReportEvidence {
    double seconds = 0.0;               ///< how long the sound lasts that the report rests on
    double askedSeconds = 0.1;          ///< from the expected note to the next
    double levelDb = 0.0;               ///< against the median of the take
    double periodicity = 0.0;           ///< 0..1
    double offPitch = 0.0;              ///< from the nearest semitone of the take's tuning, 0..0.5
    bool struck = false;                ///< begins with an articulation, not with a bend
    double interval = 0.0;              ///< from the pitch asked for, semitones; 0 where no sound is
    double rearticulationLogOdds = 0.0; ///< HeardNote::Again::logOdds; 0 where it is no second articulation
    double silentSeconds = 0.0;         ///< before the sound; of a missed note within its time
};

inline constexpr std::size_t reportFeatures = 9;
using ReportFeatures = std::array<double, reportFeatures>;

/// Evidence as numbers that a linear fit can weigh, the first of them 1; each within about -3..3.
[[nodiscard]] ReportFeatures featuresOf(const ReportEvidence& evidence);

/// Which weights hold for a report.
enum class WeighedAs { wrong, missed, spoke, breath, extra };
inline constexpr std::size_t weighedKinds = 5;
[[nodiscard]] WeighedAs weighedAs(ReportKind kind);

/// How likely a report by sound is so, 0..1: a logistic fit to takes of the tuning parts, in which what was
/// played is known (Tests/Tuning). It presumes that faults are as frequent as there.
[[nodiscard]] double likelihoodOf(WeighedAs kind, const ReportEvidence& evidence);

inline constexpr std::size_t lateFeatures = 4;
using LateFeatures = std::array<double, lateFeatures>;
[[nodiscard]] LateFeatures featuresOf(const LateEvidence& evidence);
/// How likely just these fingers came late.
[[nodiscard]] double likelihoodOf(const LateEvidence& evidence);

/// Less likely than this nothing is reported: where two articulations run into one another, true ones are no
/// likelier. Set on the parts that the weights are fitted to.
inline constexpr double leastLikelihood = 0.3;
/// And late fingers are not told.
inline constexpr double leastLateLikelihood = 0.5;

} // namespace valveladder
