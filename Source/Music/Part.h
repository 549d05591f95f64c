#pragma once

#include "Music/PlayOrder.h"
#include "Score/Score.h"
#include "Tempo/TempoMap.h"
#include "Valves/Pitch.h"

#include <algorithm>
#include <cstdint>
#include <iterator>
#include <optional>
#include <string>
#include <vector>

namespace valveladder {

/// A note of a piece, ties joined. Times are ticks of the part, of which Part::ticksPerQuarter make a
/// quarter.
struct PartNote {
    Tick onset = 0;
    Tick length = 0; ///< 0 for grace notes
    MidiNote written = 60;
    MidiNote sounding = 58;
    bool grace = false;
    bool slurFromPrevious = false;
    int bar = 0;     ///< into Part::bars
    int source = -1; ///< which note of the file's part this is, in the file's order; -1 when there is none
    std::optional<int>
        alter{}; ///< semitones by which the written note's name is altered, where the file says

    bool operator==(const PartNote&) const = default;
};

/// The written note's name: flat where the file says so, else sharp.
[[nodiscard]] std::string writtenName(const PartNote& note);

/// A bar as played: with repeats unrolled, a bar of the file comes once for each time it is played.
struct PartBar {
    Tick start = 0;
    Tick length = 0;
    std::string number; ///< as printed
    int source = 0;     ///< bar of the file, from 0

    bool operator==(const PartBar&) const = default;
};

struct PartMeter {
    Tick tick = 0;
    int beats = 4;
    int unit = 4;
    bool operator==(const PartMeter&) const = default;
};
struct PartTempo {
    Tick tick = 0;
    double bpm = defaultBpm; ///< quarters a minute
    bool operator==(const PartTempo&) const = default;
};
struct PartKey {
    Tick tick = 0;
    int fifths = 0; ///< sharps, negative = flats, of the written key
    bool operator==(const PartKey&) const = default;
};

/// The last of the signs (sorted by tick) that stands at `tick` or before it; null where none does.
template <typename Sign>
[[nodiscard]] const Sign* inForce(const std::vector<Sign>& signs, Tick tick) {
    const auto after = std::partition_point(signs.begin(), signs.end(),
                                            [tick](const Sign& sign) { return sign.tick <= tick; });
    return after == signs.begin() ? nullptr : &*std::prev(after);
}

/// One line of a piece: what a player reads from one stand. Notes are sorted by onset and do not overlap;
/// grace notes come before the note they lead to.
struct Part {
    std::string name;
    int ticksPerQuarter = 5040; ///< chosen so that every onset and length of the file is exact
    int transposition = 0;      ///< sounding - written, semitones
    std::vector<PartNote> notes;
    std::vector<PartBar> bars;
    std::vector<BarSigns> signs; ///< of bars, in a part as its file prints it; empty where repeats are taken
    std::vector<PartMeter> meters; ///< sorted, as are tempos and keys; empty = 4/4, 120, no key given
    std::vector<PartTempo> tempos;
    std::vector<PartKey> keys;
    Tick length = 0;
    std::vector<std::string> remarks; ///< what was left out or chosen, in words ("bar 3: of a chord ...")

    [[nodiscard]] double bpmAt(Tick tick) const;
    /// Of the key in force, as PartKey::fifths; 0 where the file names none.
    [[nodiscard]] int fifthsAt(Tick tick) const;

    bool operator==(const Part&) const = default;
};

/// Which line of a file is wanted.
struct PartChoice {
    int part = 0;           ///< of those the file lists, from 0
    std::string voice{};    ///< MusicXML voice; empty = the one with most notes
    bool unroll = true;     ///< repeats, endings, da capo and the like as played; false: as printed
    bool highest = true;    ///< of a chord, the highest note is taken; false: the lowest
    bool graceNotes = true; ///< kept as notes of no length; false: left out

    bool operator==(const PartChoice&) const = default;
};

/// What a file offers to choose from.
struct PartInfo {
    std::string name;
    int transposition = 0;
    struct Voice {
        std::string name;
        int notes = 0;
    };
    std::vector<Voice> voices; ///< in order of appearance
};

} // namespace valveladder
