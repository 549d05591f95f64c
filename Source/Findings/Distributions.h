#pragma once

#include "Listening/Performance.h"

#include <vector>

namespace valveladder {

[[nodiscard]] double normalCdf(double z);
/// Precondition: 0 < share < 1.
[[nodiscard]] double normalQuantile(double share);
/// Preconditions: 0 < share < 1, freedom > 0.
[[nodiscard]] double studentQuantile(double freedom, double share);
/// From the middle of an interval of this share to either end, in standard errors. Preconditions as above.
[[nodiscard]] double studentReach(double freedom, double share);
/// Two-sided p of a Student t value.
[[nodiscard]] double studentTwoSidedP(double freedom, double t);
/// Fisher's exact test, upper tail: the chance of at least `hits` marked ones among `drawn` of `total`, of
/// which `marked` are marked (Fisher, "The Design of Experiments", 1935).
[[nodiscard]] double fisherUpperTail(int hits, int drawn, int marked, int total);
/// A share with its exact 90 % interval: what binomial chance leaves possible (Clopper & Pearson, "The Use of
/// Confidence or Fiducial Limits Illustrated in the Case of the Binomial", Biometrika 26, 1934). 0..1; n =
/// trials. Precondition: 0 <= hits <= trials; nothing is known (0 to 1) without trials.
[[nodiscard]] Estimate binomialShare(int hits, int trials);
/// The chance of at least `hits` in independent trials that hit with these chances (the Poisson binomial
/// distribution). Exact up to 1000 trials, normal approximation with continuity correction above.
[[nodiscard]] double hitsUpperTail(int hits, const std::vector<double>& chances);

} // namespace valveladder
