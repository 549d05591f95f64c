#include "Valves/Spelling.h"

#include "Valves/Interval.h"

#include <array>

namespace valveladder {

namespace {

/// Whether the note's usual name is a flat: B flat, E flat, A flat.
bool usuallyFlat(int pitchClass) {
    return pitchClass == 10 || pitchClass == 3 || pitchClass == 8;
}

int pitchClassOf(int note) {
    return (note % semitonesAnOctave + semitonesAnOctave) % semitonesAnOctave;
}

} // namespace

Spelled spell(MidiNote note, Spelling spelling) {
    // Steps of the twelve pitch classes; the sign follows from them.
    static constexpr std::array<int, semitonesAnOctave> sharps{0, 0, 1, 1, 2, 3, 3, 4, 4, 5, 5, 6};
    static constexpr std::array<int, semitonesAnOctave> flats{0, 1, 1, 2, 2, 3, 4, 4, 5, 5, 6, 6};
    static constexpr std::array<int, semitonesAnOctave> german{0, 0, 1, 2, 2, 3,
                                                               3, 4, 4, 5, 6, 6}; // Cis Es Fis Gis B
    static constexpr std::array<int, 7> naturals{0, 2, 4, 5, 7, 9, 11};
    const int pitchClass = pitchClassOf(note);
    const auto& steps = spelling == Spelling::flats ? flats : spelling == Spelling::german ? german : sharps;
    const int step = steps[static_cast<std::size_t>(pitchClass)];
    return {step, pitchClass - naturals[static_cast<std::size_t>(step)],
            (note - pitchClass) / semitonesAnOctave - 1};
}

Spelling writtenSpelling(const Instrument& instrument) {
    const bool flat =
        !instrument.sides.empty() && usuallyFlat(pitchClassOf(instrument.sides.front().fundamental));
    return flat ? Spelling::flats : Spelling::sharps;
}

Spelling soundingSpelling(const Instrument& instrument) {
    constexpr int f = 5;
    const int soundingC = pitchClassOf(instrument.transposition);
    const bool flat = usuallyFlat(soundingC) || soundingC == f;
    return flat ? Spelling::flats : writtenSpelling(instrument);
}

std::string writtenName(const Instrument& instrument, MidiNote written) {
    return pitchName(written, writtenSpelling(instrument));
}

std::string soundingName(const Instrument& instrument, MidiNote sounding) {
    return pitchName(sounding, soundingSpelling(instrument));
}

} // namespace valveladder
