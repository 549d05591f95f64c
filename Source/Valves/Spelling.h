#pragma once

#include "Valves/Instrument.h"
#include "Valves/Pitch.h"

#include <string>

namespace valveladder {

// How a pitch is spelled: one rule for staff, titles, strips, console and files, so that a pitch has one name
// wherever a player meets it. It is the player's choice of names where one was made; else flats for
// instruments whose open notes are written flat (parts at concert pitch, as for the B flat tuba in bass clef)
// and sharps for all others, since a ladder's rungs begin upwards (both common practice, no source).

/// A written pitch as it stands on a staff.
struct Spelled {
    int step = 0;  ///< 0 = C ... 6 = B
    int alter = 0; ///< semitones: -1 flat, 0 natural, 1 sharp
    int octave = 4;

    /// Staff places, lines and spaces alike, above C0.
    [[nodiscard]] int place() const { return octave * 7 + step; }
    bool operator==(const Spelled&) const = default;
};

/// The letter and sign that pitchName() gives the note, for a staff.
[[nodiscard]] Spelled spell(MidiNote note, Spelling spelling);

/// The spelling of an instrument's written notes where the player chose none: sharps or flats.
[[nodiscard]] Spelling writtenSpelling(const Instrument& instrument);
/// The same of its sounding notes: flats also where its written C sounds B flat, E flat, A flat or F.
[[nodiscard]] Spelling soundingSpelling(const Instrument& instrument);

/// pitchName() of a written note in writtenSpelling().
[[nodiscard]] std::string writtenName(const Instrument& instrument, MidiNote written);
/// pitchName() of a sounding note in soundingSpelling().
[[nodiscard]] std::string soundingName(const Instrument& instrument, MidiNote sounding);

} // namespace valveladder
