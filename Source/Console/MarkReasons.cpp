#include "Console/MarkReasons.h"

#include "Base/Sentence.h"
#include "Console/HeldInstead.h"

#include <cmath>
#include <set>

namespace valveladder::console {

namespace {

/// Changes of valves in a part, each way by itself.
struct PartChanges {
    std::set<Change> all;
    std::set<Change> own; ///< those whose cost is the player's own
};

PartChanges changesIn(const Marking& marking, const OwnChanges& own) {
    PartChanges changes;
    for (const MarkedNote& note : marking.notes) {
        if (note.change.fingersMoved() == 0)
            continue;
        changes.all.insert(note.change);
        if (own.medianMs(note.change))
            changes.own.insert(note.change);
    }
    return changes;
}

std::string fromKnown(const std::string& whose, const PartChanges& part, int known) {
    const std::string asked =
        fmt::format("the {} of valves in this part", counted(static_cast<long>(part.all.size()), "change"));
    if (part.own.empty())
        return fmt::format("Costs go by fingers moved, at {}'s own pace: none of {} is among the {} whose "
                           "changeovers are known. Takes of a drill that holds them make them known.",
                           whose, asked, known);
    return fmt::format(
        "Costs go by {}'s own changeovers, known for {} of {}{}.", whose, part.own.size(), asked,
        part.own.size() < part.all.size() ? "; the others go by fingers moved, at that pace" : "");
}

} // namespace

Result<std::string> costsFrom(const LogOptions& log, const std::string& player, const Instrument& instrument,
                              const OwnChanges& own, const Marking& marking) {
    const std::string whose = player.empty() ? "the player" : player;
    if (own.known() > 0)
        return fromKnown(whose, changesIn(marking, own), own.known());
    if (own.logged() > 0)
        return fmt::format(
            "Costs go by fingers moved: of the {} changes logged of {} on {} none has been "
            "measured {} times. Keep more slurred takes by sound, or takes with valve sensors.",
            own.logged(), whose, instrument.name, OwnChanges::fewest);
    const auto held = heldInstead(log, player);
    if (!held)
        return held.problem();
    return fmt::format("Costs go by fingers moved: no change of {} on {} is logged. {}{}", whose,
                       instrument.id, held.value().words,
                       held.value().ofPlayer ? " Name the instrument with -i." : "");
}

std::string whyNothingMarked(const Part& line, const Marking& marking, const Instrument& instrument,
                             double percent) {
    constexpr double mostPercent = 400.0;
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
        "Nothing is marked: of all changes {} to {} in bar {} fills the largest share of its time, {:.0f} %; "
        "marks begin at {:.0f} %.",
        instrument.combinationName(most->change.from), instrument.combinationName(most->change.to),
        line.bars[static_cast<std::size_t>(at.bar)].number, 100.0 * most->cost, 100.0 * leastSpotCost);
    const double enough = std::ceil(percent * leastSpotCost / most->cost / roundTo) * roundTo;
    if (enough <= mostPercent)
        text += fmt::format(" A quicker tempo marks more: try --tempo {:.0f}.", enough);
    return text + " --part and --voice choose another line.";
}

} // namespace valveladder::console
