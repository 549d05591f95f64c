#pragma once

namespace valveladder {

[[nodiscard]] double normalCdf(double z);
/// Precondition: 0 < share < 1.
[[nodiscard]] double normalQuantile(double share);
/// Preconditions: 0 < share < 1, freedom > 0.
[[nodiscard]] double studentQuantile(double freedom, double share);
/// Two-sided p of a Student t value.
[[nodiscard]] double studentTwoSidedP(double freedom, double t);
/// Fisher's exact test, upper tail: the chance of at least `hits` marked ones among `drawn` of `total`, of
/// which `marked` are marked (Fisher, "The Design of Experiments", 1935).
[[nodiscard]] double fisherUpperTail(int hits, int drawn, int marked, int total);

} // namespace valveladder
