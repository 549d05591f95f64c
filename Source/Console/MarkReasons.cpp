#include "Console/MarkReasons.h"

#include "Console/HeldInstead.h"

#include <cmath>

namespace valveladder::console {

Result<std::string> costsFrom(const LogOptions& log, const std::string& player, const Instrument& instrument,
                              const CostBasis& basis) {
    std::string text = inWords(basis, player, instrument.name);
    if (basis.changes == 0 || basis.logged > 0)
        return text;
    const auto held = heldInstead(log, player);
    if (!held)
        return held.problem();
    text += " " + held.value().words;
    if (held.value().ofPlayer)
        text += " Name the instrument with -i.";
    return text;
}

std::string whyNothingMarked(const Part& line, const Marking& marking, const Instrument& instrument,
                             double percent) {
    constexpr double roundTo = 10.0;
    const MarkedNote* most = nullptr;
    for (const MarkedNote& note : marking.notes)
        if (note.change.fingersMoved() > 0 && (most == nullptr || note.cost > most->cost))
            most = &note;
    if (most == nullptr)
        return "Nothing is marked: no change in this part moves a finger. Choose another line with --part or "
               "--voice.";
    const PartNote& at = line.notes[static_cast<std::size_t>(most->note)];
    std::string text = fmt::format(
        "Nothing is marked: of all changes {} in bar {} fills the largest share of its time, {:.0f} %; "
        "marks begin at {:.0f} %.",
        changeName(most->change, instrument.thumbValve), line.bars[static_cast<std::size_t>(at.bar)].number,
        100.0 * most->cost, 100.0 * leastSpotCost);
    const double enough = std::ceil(percent * leastSpotCost / most->cost / roundTo) * roundTo;
    if (enough <= mostTempoPercent)
        text += fmt::format(" A quicker tempo marks more: try --tempo {:.0f}.", enough);
    return text + " --part and --voice choose another line.";
}

} // namespace valveladder::console
