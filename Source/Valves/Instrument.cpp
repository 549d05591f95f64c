#include "Valves/Instrument.h"

#include "Valves/Interval.h"

#include <algorithm>
#include <cmath>

namespace valveladder {

namespace {

constexpr std::array<int, maxValves> nominalSemitones{2, 1, 3, 5};

Instrument make(std::string id, std::string name, int transposition, MidiNote fundamental, int valves,
                Compensation compensation = Compensation::none, Clef clef = Clef::treble) {
    Instrument instrument;
    instrument.id = std::move(id);
    instrument.name = std::move(name);
    instrument.transposition = transposition;
    instrument.valves = valves;
    instrument.compensation = compensation;
    instrument.clef = clef;
    instrument.sides = {{"", fundamental, idealTubes()}};
    // The lowest note of three valves lies six semitones under partial 2; a fourth valve reaches down to the
    // semitone above the pedal. The top is partial 8.
    instrument.lowest = fundamental + (valves == 4 ? 1 : 6);
    instrument.highest = fundamental + 36;
    instrument.ladderFoot = fundamental + 6;
    return instrument;
}

/// Horn parts are written in F; the F side's fundamental is written C2, the B flat side's F2 (Kloss 1998, a
/// chart of horn fingerings). The horn's drill stays at written F#3, an octave higher in the series than a
/// trumpet's.
Instrument makeHorn(std::string id, std::string name, int transposition, std::vector<Side> sides) {
    Instrument horn;
    horn.id = std::move(id);
    horn.name = std::move(name);
    horn.transposition = transposition;
    horn.thumbValve = sides.size() == 2;
    horn.valves = horn.thumbValve ? 4 : 3;
    horn.sides = std::move(sides);
    horn.lowest = horn.sides.front().fundamental + 6;
    horn.highest = 84;
    horn.ladderFoot = 54;
    return horn;
}

std::vector<Instrument> makeHighBrass() {
    constexpr MidiNote c3 = 48;
    return {make("trumpet-b-flat", "Trumpet in B flat", -2, c3, 3),
            make("trumpet-c", "Trumpet in C", 0, c3, 3),
            make("cornet-b-flat", "Cornet in B flat", -2, c3, 3),
            make("cornet-c", "Cornet in C", 0, c3, 3),
            make("flugelhorn-b-flat", "Flugelhorn in B flat", -2, c3, 3),
            make("flugelhorn-b-flat-4", "Flugelhorn in B flat, four valves", -2, c3, 4),
            make("flugelhorn-c", "Flugelhorn in C", 0, c3, 3),
            make("alto-horn-e-flat", "Alto horn in E flat", -9, c3, 3)};
}

std::vector<Instrument> makeHorns() {
    constexpr MidiNote c2 = 36;
    constexpr MidiNote f2 = 41;
    return {makeHorn("horn-f", "Horn in F", -7, {{"F", c2, idealTubes()}}),
            makeHorn("horn-b-flat", "Horn in B flat, parts in F", -7, {{"B flat", f2, idealTubes()}}),
            makeHorn("horn-double", "Double horn in F and B flat", -7,
                     {{"F", c2, idealTubes()}, {"B flat", f2, idealTubes()}})};
}

std::vector<Instrument> makeTenorBrass() {
    constexpr MidiNote c3 = 48;
    constexpr MidiNote bFlat1 = 34;
    using enum Compensation;
    return {make("baritone-treble", "Baritone in B flat, treble clef", -14, c3, 3),
            make("baritone-bass", "Baritone in B flat, bass clef", 0, bFlat1, 3, none, Clef::bass),
            make("euphonium-3-treble", "Euphonium, three valves, treble clef", -14, c3, 3),
            make("euphonium-3-bass", "Euphonium, three valves, bass clef", 0, bFlat1, 3, none, Clef::bass),
            make("euphonium-4-treble", "Euphonium, four valves, treble clef", -14, c3, 4),
            make("euphonium-4-bass", "Euphonium, four valves, bass clef", 0, bFlat1, 4, none, Clef::bass),
            make("euphonium-4-compensating-treble", "Euphonium, four valves, compensating, treble clef", -14,
                 c3, 4, fourValve),
            make("euphonium-4-compensating-bass", "Euphonium, four valves, compensating, bass clef", 0,
                 bFlat1, 4, fourValve, Clef::bass)};
}

/// Tubas read at concert pitch in bass clef. Fundamentals: F1, E flat 1, C1, B flat 0.
std::vector<Instrument> makeTubas() {
    struct Size {
        const char* id;
        const char* name;
        MidiNote fundamental;
    };
    constexpr std::array<Size, 4> sizes{{{"tuba-f", "Tuba in F", 29},
                                         {"tuba-e-flat", "Tuba in E flat", 27},
                                         {"tuba-c", "Tuba in C", 24},
                                         {"tuba-b-flat", "Tuba in B flat", 22}}};
    std::vector<Instrument> tubas;
    for (const Size& size : sizes) {
        const std::string id = size.id;
        const std::string name = size.name;
        using enum Compensation;
        tubas.push_back(make(id + "-3", name + ", three valves", 0, size.fundamental, 3, none, Clef::bass));
        tubas.push_back(make(id + "-3-compensating", name + ", three valves, compensating", 0,
                             size.fundamental, 3, threeValve, Clef::bass));
        tubas.push_back(make(id + "-4", name + ", four valves", 0, size.fundamental, 4, none, Clef::bass));
        tubas.push_back(make(id + "-4-compensating", name + ", four valves, compensating", 0,
                             size.fundamental, 4, fourValve, Clef::bass));
    }
    return tubas;
}

/// Basses of the brass band read treble clef, fingered as a cornet: the E flat bass sounds an octave and a
/// major sixth lower than written, the B flat bass two octaves and a major second (common practice).
std::vector<Instrument> makeBrassBandBasses() {
    constexpr MidiNote c3 = 48;
    constexpr int eFlat = -21;
    constexpr int bFlat = -26;
    using enum Compensation;
    return {make("tuba-e-flat-3-treble", "Tuba in E flat, three valves, treble clef", eFlat, c3, 3),
            make("tuba-e-flat-3-compensating-treble",
                 "Tuba in E flat, three valves, compensating, treble clef", eFlat, c3, 3, threeValve),
            make("tuba-e-flat-4-treble", "Tuba in E flat, four valves, treble clef", eFlat, c3, 4),
            make("tuba-e-flat-4-compensating-treble",
                 "Tuba in E flat, four valves, compensating, treble clef", eFlat, c3, 4, fourValve),
            make("tuba-b-flat-3-treble", "Tuba in B flat, three valves, treble clef", bFlat, c3, 3),
            make("tuba-b-flat-3-compensating-treble",
                 "Tuba in B flat, three valves, compensating, treble clef", bFlat, c3, 3, threeValve),
            make("tuba-b-flat-4-treble", "Tuba in B flat, four valves, treble clef", bFlat, c3, 4),
            make("tuba-b-flat-4-compensating-treble",
                 "Tuba in B flat, four valves, compensating, treble clef", bFlat, c3, 4, fourValve)};
}

std::vector<Instrument> makeCatalogue() {
    std::vector<Instrument> all;
    for (auto* family : {&makeHighBrass, &makeHorns, &makeTenorBrass, &makeTubas, &makeBrassBandBasses}) {
        const auto members = family();
        all.insert(all.end(), members.begin(), members.end());
    }
    return all;
}

/// What is wrong with one air path, or nothing.
std::string sideFault(const Side& side, int valves) {
    if (side.fundamental < lowestMidiNote || side.fundamental > 72)
        return "the fundamental must lie between MIDI notes 0 and 72";
    for (int valve = 0; valve < valves; ++valve) {
        const double tube = side.tubes[static_cast<std::size_t>(valve)];
        if (!std::isfinite(tube) || tube < 0.01 || tube > 2.0)
            return "the tube of valve " + std::to_string(valve + 1) +
                   " must be between 0.01 and 2 of the open length";
    }
    return "";
}

std::string instrumentFault(const Instrument& instrument) {
    if (instrument.id.empty() || instrument.name.empty())
        return "it needs an id and a name";
    if (instrument.valves != 3 && instrument.valves != 4)
        return "it must have three or four valves";
    if (instrument.transposition < -36 || instrument.transposition > 36)
        return "the transposition must be within three octaves";
    if (instrument.sides.size() != (instrument.thumbValve ? 2U : 1U))
        return "it needs one air path, or two with a thumb valve";
    if (instrument.thumbValve && instrument.valves != 4)
        return "the thumb valve counts as the fourth";
    if (instrument.lowest < lowestMidiNote || instrument.highest > highestMidiNote ||
        instrument.lowest > instrument.highest)
        return "the written range is empty or outside MIDI notes 0 to 127";
    if (instrument.sounding(instrument.lowest) < lowestMidiNote ||
        instrument.sounding(instrument.highest) > highestMidiNote)
        return "the sounding range lies outside MIDI notes 0 to 127";
    if (instrument.ladderFoot < instrument.lowest || instrument.ladderFoot > instrument.highest)
        return "the ladder's foot lies outside the range";
    for (const Side& side : instrument.sides)
        if (auto fault = sideFault(side, instrument.valves); !fault.empty())
            return fault;
    return "";
}

} // namespace

std::array<double, maxValves> idealTubes() {
    std::array<double, maxValves> tubes{};
    for (std::size_t valve = 0; valve < tubes.size(); ++valve)
        tubes[valve] = frequencyRatio(nominalSemitones[valve]) - 1.0;
    return tubes;
}

std::string Instrument::combinationName(Combination combination) const {
    return valveladder::combinationName(combination, thumbValve);
}

const std::vector<Instrument>& catalogue() {
    static const std::vector<Instrument> all = makeCatalogue();
    return all;
}

const Instrument* findInstrument(std::string_view id) {
    const auto& all = catalogue();
    const auto found = std::find_if(all.begin(), all.end(), [id](const Instrument& i) { return i.id == id; });
    return found == all.end() ? nullptr : &*found;
}

Result<Instrument> checked(Instrument instrument) {
    const std::string fault = instrumentFault(instrument);
    if (fault.empty())
        return instrument;
    return Problem{fault, "instrument '" + instrument.id + "'", "correct the instrument's description"};
}

} // namespace valveladder
