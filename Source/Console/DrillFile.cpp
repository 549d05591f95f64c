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
        if (auto valid = checked(*rules.value()); !valid)
            return Problem{valid.problem().what, path + ", tempo, " + valid.problem().where,
                           valid.problem().remedy};
    return ReadDrill{std::move(drill.value()), std::move(rules.value())};
}

} // namespace valveladder::console
