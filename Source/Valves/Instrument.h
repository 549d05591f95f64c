#pragma once

#include "Base/Problem.h"
#include "Valves/Combination.h"
#include "Valves/Pitch.h"

#include <array>
#include <string>
#include <string_view>
#include <vector>

namespace valveladder {

enum class Clef { treble, bass };

/// How the tubes of combined valves are lengthened (Blaikley 1878: the air passes the valves a second time).
/// `threeValve`: valve 3 sends the air through extra loops of valves 1 and 2. `fourValve`: valve 4 does, for
/// 1, 2, 3.
enum class Compensation { none, threeValve, fourValve };

/// One air path. All instruments have one, but for the double horn's two (F, and B flat with the thumb).
struct Side {
    std::string name;                    ///< "", "F", "B flat"
    MidiNote fundamental = 48;           ///< written pitch of partial 1, open
    std::array<double, maxValves> tubes; ///< added tube of valves 1..4 as a fraction of the open tube, > 0

    bool operator==(const Side&) const = default;
};

/// Fractions that lower by exactly 2, 1, 3, 5 semitones when pressed alone: 2^(n/12) - 1 =
/// 0.12246, 0.05946, 0.18921, 0.33484.
[[nodiscard]] std::array<double, maxValves> idealTubes();

struct Instrument {
    std::string id;          ///< stable, lower case with hyphens, e.g. "trumpet-b-flat"
    std::string name;        ///< "Trumpet in B flat"
    int transposition = 0;   ///< sounding = written + transposition, semitones
    int valves = 3;          ///< 3 or 4; a double horn has 4, the fourth being the thumb's
    bool thumbValve = false; ///< valve 4 is a thumb valve that chooses sides[1]; shown as "T"
    Compensation compensation = Compensation::none;
    Clef clef = Clef::treble;
    std::vector<Side> sides; ///< 1, or 2 with a thumb valve
    MidiNote lowest = 54;    ///< written range, inclusive
    MidiNote highest = 84;
    MidiNote ladderFoot = 54; ///< default foot of the ladder, written

    [[nodiscard]] MidiNote sounding(MidiNote written) const { return written + transposition; }
    [[nodiscard]] MidiNote written(MidiNote sounding) const { return sounding - transposition; }
    /// As this instrument's player calls it, "T" being the thumb's valve.
    [[nodiscard]] std::string combinationName(Combination combination) const;

    bool operator==(const Instrument&) const = default;
};

/// All instruments known by name, in the order a list should show them. Never empty; ids are unique and
/// stable.
[[nodiscard]] const std::vector<Instrument>& catalogue();

/// nullptr when no instrument has that id.
[[nodiscard]] const Instrument* findInstrument(std::string_view id);

/// The instrument itself, or what is wrong with it (valves not 3 or 4, tube not in 0.01..2, range empty,
/// ...).
[[nodiscard]] Result<Instrument> checked(Instrument instrument);

} // namespace valveladder
