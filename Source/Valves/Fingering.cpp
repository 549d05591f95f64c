#include "Valves/Fingering.h"

#include "Base/Units.h"
#include "Valves/Interval.h"

#include <algorithm>
#include <cmath>
#include <tuple>

namespace valveladder {

namespace {

/// Partials of brass fingering charts. 7 is flat by 31 cents and serves as an alternate only; 11, 13 and 14
/// lie a quarter tone off and serve for nothing.
constexpr std::array<int, 12> usablePartials{2, 3, 4, 5, 6, 7, 8, 9, 10, 12, 15, 16};

constexpr int flatPartial = 7;

/// A combination sharper than this against its nominal lowering gives way to the next longer one: the deepest
/// notes of a four-valve instrument that does not compensate take the fingering of the note a semitone lower
/// (common practice). 1-2-3 at 54 cents is still used.
constexpr double acceptedSharpnessCents = 60.0;
constexpr double sharpestCents = 80.0;
constexpr double flattestCents = -60.0;

/// Alternates further off than this are not mixed into drills of three-valve instruments.
constexpr double mixedAlternateCents = 35.0;

double tubeOf(const Side& side, int valve) {
    return side.tubes[static_cast<std::size_t>(valve - 1)];
}

/// Sum of the tubes of the valves of `combination` among 1..last.
double tubeSum(const Side& side, Combination combination, int last) {
    double sum = 0.0;
    for (int valve = 1; valve <= last; ++valve)
        if (combination.has(valve))
            sum += tubeOf(side, valve);
    return sum;
}

/// Total length over the open length.
double lengthFactor(const Side& side, Compensation compensation, Combination combination) {
    // Through the compensating valve the air passes a second set of loops, each its own valve's length times
    // the compensating valve's, so that the fractions multiply instead of adding.
    if (compensation == Compensation::fourValve && combination.has(4))
        return (1.0 + tubeOf(side, 4)) * (1.0 + tubeSum(side, combination, 3));
    if (compensation == Compensation::threeValve && combination.has(3))
        return (1.0 + tubeOf(side, 3)) * (1.0 + tubeSum(side, combination, 2));
    return 1.0 + tubeSum(side, combination, maxValves);
}

int nominalLowering(const Side& side, Combination combination) {
    int semitones = 0;
    for (int valve = 1; valve <= maxValves; ++valve)
        if (combination.has(valve))
            semitones += static_cast<int>(std::lround(semitonesOf(1.0 + tubeOf(side, valve))));
    return semitones;
}

/// Trade preference among combinations that lower alike: 4 before 1-3, 2-4 before 1-2-3 (Funderburk,
/// University of Northern Iowa), 1-2 before 3.
int awkwardness(Combination combination) {
    const bool loneThird = combination.has(3) && !combination.has(1) && !combination.has(2);
    return combination.count() + (loneThird ? 10 : 0);
}

/// Valves that a finger chooses freely: all, but for a thumb valve, which the side decides.
int fingerValves(const Instrument& instrument) {
    return instrument.thumbValve ? 3 : instrument.valves;
}

/// US habit on the double horn: F side up to G4, B flat side above (a published chart gives F side G3-G4,
/// identical fingerings on both sides A flat 4 to C5, B flat side from D flat 5).
constexpr MidiNote firstNoteOnBFlatSide = 68;
constexpr MidiNote lowestOnEitherSide = 60;

int usualSide(const Instrument& instrument, MidiNote written) {
    return instrument.thumbValve && written >= firstNoteOnBFlatSide ? 1 : 0;
}

/// Partials that charts pass over for their tuning: 7 everywhere, and 5 for A flat 4 and A4 of the horn's B
/// flat side.
bool avoidedPartial(const Side& side, MidiNote written, int partial) {
    const bool hornsFifth = side.name == "B flat" && partial == 5 && (written == 68 || written == 69);
    return partial == flatPartial || hornsFifth;
}

struct Candidate {
    Fingering fingering;
    int distance = 0; ///< semitones from the open partial down to the note
    bool asNominal = true;
    bool avoided = false;
};

bool preferred(const Candidate& a, const Candidate& b, int side) {
    const auto key = [side](const Candidate& c) {
        const double offTune = c.asNominal ? 0.0 : std::abs(c.fingering.cents);
        return std::tuple(c.fingering.side != side, c.avoided, c.distance, offTune,
                          awkwardness(c.fingering.combination), c.fingering.combination.bits());
    };
    return key(a) < key(b);
}

/// Is the combination's own lowering acceptable for a note `distance` semitones under the partial?
bool lowersTo(const Side& side, Compensation compensation, Combination combination, int distance,
              bool& asNominal) {
    const int nominal = nominalLowering(side, combination);
    const double off = centsPerSemitone * distance - loweringCents(side, compensation, combination);
    if (off > sharpestCents || off < flattestCents)
        return false;
    asNominal = nominal == distance && off <= acceptedSharpnessCents;
    return nominal == distance || nominal == distance + 1;
}

void addCandidates(std::vector<Candidate>& candidates, const Instrument& instrument, int sideIndex,
                   MidiNote written) {
    const Side& side = instrument.sides[static_cast<std::size_t>(sideIndex)];
    const int combinations = 1 << fingerValves(instrument);
    for (const int partial : usablePartials) {
        const double partialCents = centsOf(partial);
        const int partialSemitones = static_cast<int>(std::lround(partialCents / centsPerSemitone));
        const int distance = side.fundamental + partialSemitones - written;
        if (distance < 0)
            continue;
        for (int bits = 0; bits < combinations; ++bits) {
            const Combination fingers(static_cast<std::uint8_t>(bits));
            bool asNominal = false;
            if (!lowersTo(side, instrument.compensation, fingers, distance, asNominal))
                continue;
            Candidate candidate;
            const int thumb = instrument.thumbValve && sideIndex == 1 ? 0x08 : 0;
            candidate.fingering.combination = Combination(static_cast<std::uint8_t>(bits | thumb));
            candidate.fingering.partial = partial;
            candidate.fingering.side = sideIndex;
            candidate.fingering.lowering = nominalLowering(side, fingers);
            candidate.fingering.cents = partialCents - loweringCents(side, instrument.compensation, fingers) -
                                        centsPerSemitone * (written - side.fundamental);
            candidate.distance = distance;
            candidate.asNominal = asNominal;
            candidate.avoided = avoidedPartial(side, written, partial);
            candidates.push_back(candidate);
        }
    }
}

/// A longer combination than nominal counts only where no nominal one is acceptable on that partial.
void dropNeedlessSubstitutes(std::vector<Candidate>& candidates) {
    const auto nominalExists = [&candidates](const Candidate& substitute) {
        return std::any_of(candidates.begin(), candidates.end(), [&](const Candidate& other) {
            return other.asNominal && other.distance == substitute.distance &&
                   other.fingering.side == substitute.fingering.side;
        });
    };
    std::vector<Candidate> kept;
    for (const Candidate& candidate : candidates)
        if (candidate.asNominal || candidate.fingering.lowering == candidate.distance ||
            !nominalExists(candidate))
            kept.push_back(candidate);
    candidates = std::move(kept);
}

/// First alternate on the usual choice's partial and side with, or without, the fourth valve.
const Fingering& withFourth(const std::vector<Fingering>& choices, bool fourth) {
    const Fingering& usual = choices.front();
    const auto found = std::find_if(choices.begin(), choices.end(), [&](const Fingering& f) {
        return f.partial == usual.partial && f.side == usual.side && f.lowering == usual.lowering &&
               f.combination.has(4) == fourth;
    });
    return found == choices.end() ? usual : *found;
}

/// The next acceptable alternate on the usual side, for instruments without a fourth valve.
const Fingering& nextAlternate(const std::vector<Fingering>& choices) {
    const auto found = std::find_if(choices.begin() + 1, choices.end(), [&](const Fingering& f) {
        return f.side == choices.front().side && std::abs(f.cents) <= mixedAlternateCents;
    });
    return found == choices.end() ? choices.front() : *found;
}

/// The first choice on a double horn's B flat side that is no further off than alternates may be.
const Fingering& onBFlatSide(const std::vector<Fingering>& choices) {
    const auto found = std::find_if(choices.begin(), choices.end(), [](const Fingering& f) {
        return f.side == 1 && f.partial != flatPartial && std::abs(f.cents) <= mixedAlternateCents;
    });
    return found == choices.end() ? choices.front() : *found;
}

std::optional<Fingering> among(const std::vector<Fingering>& choices, Combination combination) {
    const auto found = std::find_if(choices.begin(), choices.end(), [combination](const Fingering& f) {
        return f.combination == combination;
    });
    return found == choices.end() ? std::nullopt : std::optional(*found);
}

bool secondInTurn(MixRule rule, FingeringPlace place) {
    switch (rule) {
    case MixRule::perRung:
        return place.rung % 2 != 0;
    case MixRule::perSegment:
        return place.segment % 2 != 0;
    case MixRule::perNote:
        break;
    }
    return (place.note + place.segment + place.rung) % 2 != 0;
}

} // namespace

double loweringCents(const Side& side, Compensation compensation, Combination combination) {
    return centsOf(lengthFactor(side, compensation, combination));
}

std::vector<Fingering> fingerings(const Instrument& instrument, MidiNote written) {
    if (written < instrument.lowest || written > instrument.highest)
        return {};
    std::vector<Candidate> candidates;
    for (int side = 0; side < static_cast<int>(instrument.sides.size()); ++side)
        addCandidates(candidates, instrument, side, written);
    dropNeedlessSubstitutes(candidates);
    const int side = usualSide(instrument, written);
    std::sort(candidates.begin(), candidates.end(),
              [side](const Candidate& a, const Candidate& b) { return preferred(a, b, side); });

    std::vector<Fingering> result;
    for (const Candidate& candidate : candidates) {
        const bool known = std::any_of(result.begin(), result.end(), [&](const Fingering& f) {
            return f.combination == candidate.fingering.combination;
        });
        if (!known)
            result.push_back(candidate.fingering);
    }
    return result;
}

std::optional<Fingering> fingeringOf(const Instrument& instrument, MidiNote written,
                                     Combination combination) {
    return among(fingerings(instrument, written), combination);
}

std::optional<Fingering> chooseFingering(const Instrument& instrument, MidiNote written,
                                         const FingeringPolicy& policy, FingeringPlace place) {
    const std::vector<Fingering> choices = fingerings(instrument, written);
    if (choices.empty())
        return std::nullopt;
    if (const auto given = policy.byHand.find(written); given != policy.byHand.end())
        if (const auto sounding = among(choices, given->second))
            return sounding;
    const bool hasFourth = fingerValves(instrument) == maxValves;
    switch (policy.policy) {
    case Policy::usual:
        return choices.front();
    case Policy::fourthValve:
        return hasFourth ? withFourth(choices, true) : choices.front();
    case Policy::oneThree:
        return hasFourth ? withFourth(choices, false) : choices.front();
    case Policy::bothSides:
        return secondInTurn(policy.mix, place) && written >= lowestOnEitherSide ? onBFlatSide(choices)
                                                                                : choices.front();
    case Policy::mixed:
        break;
    }
    const bool second = secondInTurn(policy.mix, place);
    if (hasFourth)
        return withFourth(choices, !second);
    return second ? nextAlternate(choices) : choices.front();
}

} // namespace valveladder
