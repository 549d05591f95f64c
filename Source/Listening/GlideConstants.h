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
/// cycle to cycle. On the tuning takes true glides stay under 0.02, in a room 0.06; a tenth of new
/// articulations lie under 0.05. So what most changes of a phrase are decides how strict to be with the
/// others.
inline constexpr double maxResidual = 0.035;
inline constexpr double lenientResidual = 0.12;
inline constexpr double usualResidual = 0.06;
/// A phrase whose glides leave more than this in the median, and of whose sound echoes explain more than this
/// share, sounds in a room. On the tuning takes: in rooms 0.007 and more, 0.04 and more; dry at most 0.003
/// but for low tones in noise, of which echoes explain 0.01.
inline constexpr double dryResidual = 0.005;
inline constexpr double leastEchoes = 0.025;
/// There all changes that leave no more than this are fitted with echoes, and what these leave unexplained
/// counts so much beside what does not repeat.
inline constexpr double ringingTo = 0.35;
inline constexpr double ringingShare = 0.85;
/// A change is no glide when what fails to repeat, so many times what echoes leave unexplained, and so many
/// times what the level (Transition::share) falls below a bend's usual, are more than this together. Of 109
/// phrases in rooms of the tuning takes, 25 of them bent, that tells all but two (without the level all but
/// twelve); it does so for weights from 1.5 and 0.6 to 2 and 0.8.
inline constexpr double ringingWeight = 1.5;
inline constexpr double dipWeight = 0.7;
inline constexpr double usualDip = 0.55;
inline constexpr double mostMisfit = 0.2;

/// Pitch that strays by so many cents moves the middle of a glide by this share of the time that the glide
/// takes for as many; of a glide of less than a cent nothing more is asked. Set on the tuning takes.
inline constexpr double noiseShare = 1.0;
inline constexpr double leastCents = 1.0;
/// A changeover under vibrato counts if contour and fit lie no farther apart, seconds.
inline constexpr double agreeingSeconds = 0.015;

} // namespace valveladder::glide
