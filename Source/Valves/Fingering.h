#pragma once

#include "Valves/Instrument.h"

#include <map>
#include <optional>
#include <vector>

namespace valveladder {

/// One way to sound a written note.
struct Fingering {
    Combination combination;
    int partial = 2;  ///< number of the harmonic that speaks, 1 = fundamental
    int side = 0;     ///< index into Instrument::sides
    int lowering = 0; ///< nominal lowering, semitones (sum of 2, 1, 3, 5)
    double cents =
        0.0; ///< predicted deviation from equal temperament, positive = sharp, bore and lip left out

    bool operator==(const Fingering&) const = default;
};

/// How far a combination lowers in cents: 1200 log2(1 + tube), with the compensating loops where present.
[[nodiscard]] double loweringCents(const Side& side, Compensation compensation, Combination combination);

/// Every fingering that sounds `written`, usual choice first, alternates after in order of preference. Empty
/// when the instrument cannot sound it (the note above the pedal of a non-compensating instrument) or it is
/// out of range.
[[nodiscard]] std::vector<Fingering> fingerings(const Instrument& instrument, MidiNote written);

/// The fingering that sounds `written` with these valves; nothing when they do not sound it.
[[nodiscard]] std::optional<Fingering> fingeringOf(const Instrument& instrument, MidiNote written,
                                                   Combination combination);

/// Which fingering a drill asks for.
/// `usual`: the first; `fourthValve`: with valve 4 for 1-3 and 2-4 for 1-2-3; `oneThree`: the reverse;
/// `mixed`: the two in turn, by MixRule. On instruments without a fourth valve the last three mix the usual
/// choice with the next alternate of no more than the usual cents limit, or fall back to the usual one.
/// `bothSides`: on a double horn the usual choice and, in turn by MixRule, the B flat side from C4 up (where
/// its open partial 3 lies; players change sides as low as that by habit, common practice, no source);
/// elsewhere the usual choice.
enum class Policy { usual, fourthValve, oneThree, mixed, bothSides };
enum class MixRule { perRung, perSegment, perNote };

struct FingeringPolicy {
    Policy policy = Policy::usual;
    MixRule mix = MixRule::perSegment;
    std::map<MidiNote, Combination> byHand; ///< written note -> combination; wins over the policy

    bool operator==(const FingeringPolicy&) const = default;
};

/// Where in the drill a note stands, for the mixing rules.
struct FingeringPlace {
    int rung = 0;
    int segment = 0;
    int note = 0; ///< index within the segment
};

/// The fingering of a note under a policy; nothing when the instrument cannot sound it. A combination given
/// by hand that does not sound the note is a matter for checked(Drill); here it falls back to the policy.
[[nodiscard]] std::optional<Fingering> chooseFingering(const Instrument& instrument, MidiNote written,
                                                       const FingeringPolicy& policy, FingeringPlace place);

} // namespace valveladder
