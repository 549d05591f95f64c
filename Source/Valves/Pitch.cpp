#include "Valves/Pitch.h"

#include "Valves/Interval.h"

#include <array>
#include <charconv>

namespace valveladder {

namespace {

using Names = std::array<const char*, semitonesAnOctave>;

constexpr Names sharpNames{"C", "C#", "D", "D#", "E", "F", "F#", "G", "G#", "A", "A#", "B"};
constexpr Names flatNames{"C", "Db", "D", "Eb", "E", "F", "Gb", "G", "Ab", "A", "Bb", "B"};
constexpr Names germanNames{"C", "Cis", "D", "Es", "E", "F", "Fis", "G", "Gis", "A", "B", "H"};
constexpr Names fixedDoNames{"do", "do#", "re", "re#", "mi", "fa", "fa#", "sol", "sol#", "la", "la#", "si"};

const Names& namesFor(Spelling spelling) {
    switch (spelling) {
    case Spelling::flats:
        return flatNames;
    case Spelling::german:
        return germanNames;
    case Spelling::fixedDo:
        return fixedDoNames;
    case Spelling::sharps:
        break;
    }
    return sharpNames;
}

/// Semitones above C of a letter A..G in either case, or -1.
int letterSemitones(char letter) {
    switch (letter) {
    case 'C':
    case 'c':
        return 0;
    case 'D':
    case 'd':
        return 2;
    case 'E':
    case 'e':
        return 4;
    case 'F':
    case 'f':
        return 5;
    case 'G':
    case 'g':
        return 7;
    case 'A':
    case 'a':
        return 9;
    case 'B':
    case 'b':
        return 11;
    default:
        return -1;
    }
}

} // namespace

std::string pitchName(MidiNote note, Spelling spelling) {
    const int step = (note % semitonesAnOctave + semitonesAnOctave) % semitonesAnOctave;
    const int octave = (note - step) / semitonesAnOctave - 1;
    return namesFor(spelling)[static_cast<std::size_t>(step)] + std::to_string(octave);
}

std::optional<MidiNote> parsePitch(std::string_view text) {
    if (text.size() < 2)
        return std::nullopt;
    int step = letterSemitones(text.front());
    if (step < 0)
        return std::nullopt;
    text.remove_prefix(1);
    if (text.front() == '#') {
        ++step;
        text.remove_prefix(1);
    } else if (text.front() == 'b') {
        --step;
        text.remove_prefix(1);
    }
    int octave = 0;
    const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), octave);
    if (error != std::errc() || end != text.data() + text.size() || octave < -1 || octave > 9)
        return std::nullopt;
    const int note = (octave + 1) * semitonesAnOctave + step;
    if (note < lowestMidiNote || note > highestMidiNote)
        return std::nullopt;
    return note;
}

double frequencyHz(double note, double a4Hz) {
    return a4Hz * frequencyRatio(note - 69.0);
}

double midiOf(double hz, double a4Hz) {
    return 69.0 + semitonesOf(hz / a4Hz);
}

double centsBetween(double hz, double referenceHz) {
    return centsOf(hz / referenceHz);
}

} // namespace valveladder
