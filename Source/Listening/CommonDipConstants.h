#pragma once

namespace valveladder::commondip {

/// Partials looked at: those up to so many Hz, no fewer and no more than this.
inline constexpr double highestHz = 2000.0;
inline constexpr int leastPartials = 3;
inline constexpr int mostPartials = 12;
/// Their levels are taken over so many periods, and so many seconds at least: the fewest that part them.
inline constexpr double windowPeriods = 2.0;
inline constexpr double leastWindowSeconds = 0.012;
/// Every so many seconds, no farther from the dip than this: about as long as a second articulation takes to
/// speak. Like all here chosen beforehand, and tried on the tuning parts as it is.
inline constexpr double stepSeconds = 0.004;
inline constexpr double reachSeconds = 0.06;

} // namespace valveladder::commondip
