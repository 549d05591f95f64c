#pragma once

namespace valveladder::glide {

/// Longest change of pitch that counts as one, seconds; and as a share of the shorter of the two tones.
inline constexpr double maxSeconds = 0.18;
inline constexpr double mostOfTone = 0.9;
/// The settled pitch on either side is taken over tone::pitchWindowSeconds, but over no fewer periods.
inline constexpr double besidePeriods = 4.0;
/// Sound given to the fit before and after the change, in periods of the lower tone; and what it needs of
/// them, and of samples, to compare cycles at all.
inline constexpr double periodsBefore = 2.5;
inline constexpr double periodsAfter = 1.5;
inline constexpr double leastPeriods = 3.0;
inline constexpr double leastSamples = 16.0;
/// The middle of a glide is sought about the contour's edge: either way so many periods of the lower tone
/// and as many seconds together.
inline constexpr double slackPeriods = 1.5;
inline constexpr double slackSeconds = 0.02;

/// A glide fits when no more than this share of the sound, over what fails elsewhere, fails to repeat from
/// cycle to cycle. On the tuning takes true glides stay under 0.02, in a room 0.06; a tenth of new strokes
/// lie under 0.05. So what most changes of a phrase are decides how strict to be with the others.
inline constexpr double maxResidual = 0.035;
inline constexpr double lenientResidual = 0.12;
inline constexpr double usualResidual = 0.06;
/// Where a phrase bends, echoes are looked for from here on; and what they leave unexplained counts so much
/// beside what does not repeat. Both set on the tuning takes, dry and in rooms: there 0.09 is left by 90 % of
/// glides and less than that by a third of strokes.
inline constexpr double ringingFrom = 0.012;
inline constexpr double ringingTo = 0.35;
inline constexpr double ringingShare = 0.85;

/// Pitch that strays by so many cents moves the middle of a glide by this share of the time that the glide
/// takes for as many; of a glide of less than a cent nothing more is asked. Set on the tuning takes.
inline constexpr double noiseShare = 1.0;
inline constexpr double leastCents = 1.0;
/// A changeover under vibrato counts if contour and fit lie no farther apart, seconds.
inline constexpr double agreeingSeconds = 0.015;

} // namespace valveladder::glide
