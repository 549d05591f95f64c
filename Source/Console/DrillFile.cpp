#include "Console/DrillFile.h"

#include "Base/Path.h"
#include "Console/Output.h"
#include "Records/Json.h"

#include <filesystem>

namespace valveladder::console {

Result<ReadDrill> readDrill(const std::string& path) {
    if (std::error_code error; !std::filesystem::exists(pathOf(path), error))
        return Problem{"there is no such file", path,
                       "Name a drill file, as 'drill make -o', 'next -o' and 'mark --drill' write them; "
                       "without one it is the instrument's daily ladder"};
    auto text = readTextFile(path);
    if (!text)
        return text.problem();
    auto drill = drillFromJson(text.value());
    auto rules = drillRulesFromJson(text.value());
    if (!drill || !rules)
        return inFile(drill ? rules.problem() : drill.problem(), path);
    if (rules.value())
        if (auto valid = checked(*rules.value()); !valid)
            return inFile({valid.problem().what, "tempo, " + valid.problem().where, valid.problem().remedy},
                          path);
    return ReadDrill{std::move(drill.value()), std::move(rules.value())};
}

} // namespace valveladder::console
