#include "Console/DrillFile.h"

#include "Console/Output.h"
#include "Records/Json.h"

namespace valveladder::console {

Result<ReadDrill> readDrill(const std::string& path) {
    auto text = readTextFile(path);
    if (!text)
        return text.problem();
    auto drill = drillFromJson(text.value());
    auto rules = drillRulesFromJson(text.value());
    if (!drill || !rules) {
        const Problem problem = drill ? rules.problem() : drill.problem();
        return Problem{problem.what, path + ", " + problem.where, problem.remedy};
    }
    if (rules.value())
        if (auto sound = checked(*rules.value()); !sound)
            return Problem{sound.problem().what, path + ", tempo, " + sound.problem().where,
                           sound.problem().remedy};
    return ReadDrill{std::move(drill.value()), std::move(rules.value())};
}

} // namespace valveladder::console
