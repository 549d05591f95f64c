#include "Console/PlayedDrill.h"

#include <utility>

namespace valveladder::console {

Result<PlayedDrillOptions::Chosen> PlayedDrillOptions::choose(Tool& tool) const {
    auto found = drill.choose();
    if (!found)
        return found.problem();
    auto& [instrument, chosen, rules] = found.value();
    const auto bpm = tempo.choose(tool, instrument.id, chosen.name, rules);
    if (!bpm)
        return bpm.problem();
    return Chosen{std::move(instrument), std::move(chosen), bpm.value()};
}

Result<PlayedDrill> playedDrill(Tool& tool, const PlayedDrillOptions& options) {
    auto chosen = options.choose(tool);
    if (!chosen)
        return chosen.problem();
    auto score = buildScore(chosen.value().drill, chosen.value().instrument, chosen.value().bpm);
    if (!score)
        return score.problem();
    return PlayedDrill{std::move(chosen.value()), std::move(score.value())};
}

} // namespace valveladder::console
