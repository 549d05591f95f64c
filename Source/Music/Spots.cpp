#include "Music/Marking.h"

#include "Base/Sentence.h"
#include "Base/Units.h"
#include "Tempo/TempoMap.h"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>
#include <map>

namespace valveladder {

namespace {

constexpr std::size_t longestCell = 64; // more is no cell any longer
constexpr double quickestEighths = 4.0; // a second, at 120 quarters a minute
constexpr double startShare = 0.5;      // of the piece's own speed
constexpr double startOfLimit = 0.8;    // of the player's own limit

const MarkedNote& markedNote(const Marking& marking, int index) {
    return marking.notes[static_cast<std::size_t>(index)];
}

const PartNote& noteOf(const Part& part, const Marking& marking, int index) {
    return part.notes[static_cast<std::size_t>(markedNote(marking, index).note)];
}

/// Of the file, which a repeat leads to again.
int writtenBarOf(const Part& part, const Marking& marking, int index) {
    return part.bars[static_cast<std::size_t>(noteOf(part, marking, index).bar)].source;
}

/// How often each note of the file is among these: one entry a note. Notes without one count singly.
std::map<int, int> playedOften(const Part& part, const Marking& marking, const std::vector<int>& notes) {
    std::map<int, int> often;
    for (const int index : notes) {
        const int source = noteOf(part, marking, index).source;
        ++often[source >= 0 ? source : -1 - index];
    }
    return often;
}

std::string barWords(const Part& part, const Spot& spot) {
    const std::string first = part.bars[static_cast<std::size_t>(spot.firstBar)].number;
    const std::string last = part.bars[static_cast<std::size_t>(spot.lastBar)].number;
    return spot.firstBar == spot.lastBar ? "bar " + first : "bars " + first + "-" + last;
}

std::string speedWords(double changesPerSecond) {
    const std::string number = fmt::format("{:.2g}", changesPerSecond);
    return fmt::format("{} {} a second", number, number == "1" ? "change" : "changes");
}

std::string spotWords(const Part& part, const Spot& spot, const Instrument& instrument) {
    const std::string played = spot.passes > 1 ? "played " + timesInWords(spot.passes) + ", " : "";
    std::string words = fmt::format("{}: {}, {}, {}at {}", barWords(part, spot),
                                    changeName(spot.change, instrument.thumbValve), timesInWords(spot.times),
                                    played, speedWords(spot.changesPerSecond));
    if (spot.limit)
        words += fmt::format("; your limit is {:.2g}", *spot.limit);
    return words;
}

/// Puts changes together that lie in bars of the file next to each other.
class Gatherer {
public:
    Gatherer(const Part& ofPart, const Marking& ofMarking) : part(ofPart), marking(ofMarking) {
        for (int bar = 0; bar < static_cast<int>(part.bars.size()); ++bar)
            firstPlayed.emplace(part.bars[static_cast<std::size_t>(bar)].source, bar);
    }

    /// What one change leads into, parted where the file has a bar without it.
    void add(std::vector<int> notes) {
        const auto barOf = [this](int index) { return writtenBarOf(part, marking, index); };
        std::stable_sort(notes.begin(), notes.end(), [&](int a, int b) { return barOf(a) < barOf(b); });
        for (auto from = notes.begin(); from != notes.end();) {
            auto to = std::next(from);
            while (to != notes.end() && barOf(*to) <= barOf(*std::prev(to)) + 1)
                ++to;
            spots.push_back(spotOf({from, to}));
            from = to;
        }
    }

    std::vector<Spot> spots;

private:
    /// `notes` are sorted by bars of the file.
    [[nodiscard]] Spot spotOf(std::vector<int> notes) const {
        Spot spot;
        spot.firstBar = firstPlayed.at(writtenBarOf(part, marking, notes.front()));
        spot.lastBar = std::max(spot.firstBar, firstPlayed.at(writtenBarOf(part, marking, notes.back())));
        std::sort(notes.begin(), notes.end());
        spot.change = markedNote(marking, notes.front()).change;
        for (const int index : notes) {
            const MarkedNote& note = markedNote(marking, index);
            spot.cost += note.cost;
            if (note.seconds > 0.0)
                spot.changesPerSecond = std::max(spot.changesPerSecond, 1.0 / note.seconds);
        }
        const auto often = playedOften(part, marking, notes);
        spot.times = static_cast<int>(often.size());
        for (const auto& [source, passes] : often)
            spot.passes = std::max(spot.passes, passes);
        spot.notes = std::move(notes);
        return spot;
    }

    const Part& part;
    const Marking& marking;
    std::map<int, int> firstPlayed; // bar of the file to bar as played
};

/// The written notes from..to of the marking with its fingerings, cut to the instrument's reach and a cell's
/// longest.
DrillCell cell(const Part& part, const Marking& marking, int from, int to) {
    DrillCell notes;
    for (int i = std::max(0, from);
         i <= to && i < static_cast<int>(marking.notes.size()) && notes.notes.size() < longestCell; ++i) {
        notes.notes.push_back(noteOf(part, marking, i).written);
        notes.valves.emplace_back(marking.notes[static_cast<std::size_t>(i)].fingering.combination);
    }
    return notes;
}

/// And back to its first note.
DrillCell andBack(DrillCell there) {
    there.notes.push_back(there.notes.front());
    there.valves.push_back(there.valves.front());
    return there;
}

/// How the piece spells the marking's notes from..to: by flats or by sharps, of which more of them have;
/// absent where neither do.
std::optional<Spelling> spellingOf(const Part& part, const Marking& marking, int from, int to) {
    int balance = 0; // sharps less flats
    for (int i = std::max(0, from); i <= to && i < static_cast<int>(marking.notes.size()); ++i) {
        const PartNote& note = noteOf(part, marking, i);
        const bool natural = spell(note.written, Spelling::sharps).alter == 0;
        balance += note.alter ? std::clamp(*note.alter, -1, 1)
                   : natural  ? 0
                              : std::clamp(part.fifthsAt(note.onset), -1, 1);
    }
    return balance == 0 ? std::nullopt : std::optional(balance < 0 ? Spelling::flats : Spelling::sharps);
}

} // namespace

double Spot::timeShare() const {
    return cost / static_cast<double>(std::max<std::size_t>(1, notes.size()));
}

std::vector<Spot> rankedSpots(const Part& part, const Marking& marking, const Instrument& instrument,
                              const ChangeLimit& limit) {
    std::map<Change, std::vector<int>> changes; // lower combination first, to what it leads into
    for (int i = 1; i < static_cast<int>(marking.notes.size()); ++i) {
        const MarkedNote& note = markedNote(marking, i);
        if (note.change.fingersMoved() == 0 || note.cost < leastSpotCost)
            continue;
        changes[{std::min(note.change.from, note.change.to), std::max(note.change.from, note.change.to)}]
            .push_back(i);
    }
    Gatherer gatherer(part, marking);
    for (auto& [change, notes] : changes)
        gatherer.add(std::move(notes));
    std::vector<Spot>& spots = gatherer.spots;
    std::sort(spots.begin(), spots.end(),
              [](const Spot& a, const Spot& b) { return a.notes.front() < b.notes.front(); });
    for (Spot& spot : spots) {
        if (limit)
            spot.limit = limit(spot.change);
        spot.words = spotWords(part, spot, instrument);
    }
    // Equal costs are summed in different orders: what is left of that must not decide.
    const auto rounded = [](const Spot& spot) { return std::llround(spot.cost * 1e9); };
    std::stable_sort(spots.begin(), spots.end(),
                     [&](const Spot& a, const Spot& b) { return rounded(a) > rounded(b); });
    return std::move(spots);
}

Result<Drill> spotDrill(const Part& part, const Marking& marking, const Spot& spot,
                        const Instrument& instrument, Drill base) {
    if (spot.notes.empty())
        return Problem{"the spot holds no change", "the drill from a spot", "choose another spot"};
    const int to = spot.notes.front();
    const int barOfIt = noteOf(part, marking, to).bar;
    int first = to;
    int last = to;
    while (first > 0 && noteOf(part, marking, first - 1).bar == barOfIt)
        --first;
    while (last + 1 < static_cast<int>(marking.notes.size()) &&
           noteOf(part, marking, last + 1).bar == barOfIt)
        ++last;
    const DrillCell change = cell(part, marking, to - 1, to);
    CellPattern cells{{change, andBack(change)}};
    const DrillCell around = cell(part, marking, to - 2, to + 1);
    if (around.notes.size() > 2)
        cells.cells.push_back(around);
    const DrillCell bar = cell(part, marking, std::min(first, to - 1), last);
    if (bar.notes.size() > 1 && bar != around)
        cells.cells.push_back(bar);
    base.name = spot.words;
    base.spelling = spellingOf(part, marking, std::min(first, to - 2), std::max(last, to + 1));
    base.pattern = cells;
    base.noteTicks = ticksPerQuarter / (spot.changesPerSecond > quickestEighths ? 4 : 2);
    return checked(std::move(base), instrument);
}

TempoRules spotRules(const Spot& spot, const Drill& drill, TempoRules base) {
    const double quarters = quartersOf(drill.noteTicks);
    const auto bpmOf = [quarters](double perSecond) {
        return std::clamp(std::round(perSecond * quarters * secondsPerMinute), minBpm, maxBpm);
    };
    base.ceilingBpm = bpmOf(spot.changesPerSecond);
    base.startBpm = bpmOf(startShare * spot.changesPerSecond);
    if (spot.limit)
        base.startBpm = std::min(base.startBpm, bpmOf(startOfLimit * *spot.limit));
    return base;
}

} // namespace valveladder
