#include "Words/PartWords.h"

#include "Base/Sentence.h"

#include <fmt/format.h>

namespace valveladder {

namespace {

/// Where some of the player's changeovers are known.
std::string fromKnown(const CostBasis& basis, const std::string& whose) {
    const std::string asked = fmt::format("the {} of valves in this part", counted(basis.changes, "change"));
    if (basis.own == 0)
        return fmt::format("Costs go by fingers moved, at {}'s own pace: none of {} is among the {} whose "
                           "changeovers are known. Takes of a drill that holds them make them known.",
                           whose, asked, basis.known);
    return fmt::format("Costs go by {}'s own changeovers, known for {} of {}{}.", whose, basis.own, asked,
                       basis.own < basis.changes ? "; the others go by fingers moved, at that pace" : "");
}

} // namespace

std::string inWords(const CostBasis& basis, const std::string& player, const std::string& instrument) {
    const std::string whose = player.empty() ? "the player" : player;
    if (basis.changes == 0)
        return "Nothing costs: there is no change of valves in this part.";
    if (basis.known > 0)
        return fromKnown(basis, whose);
    if (basis.logged > 0)
        return fmt::format(
            "Costs go by fingers moved: of the {} logged of {} on {} none has been measured {} "
            "by sound or sensor. Keep more slurred takes by sound, or takes with valve sensors.",
            counted(basis.logged, "change"), whose, instrument, timesInWords(basis.fewest));
    return fmt::format("Costs go by fingers moved: no change of {} on {} is logged yet.", whose, instrument);
}

} // namespace valveladder
