#include "Console/DrillFile.h"

#include "Console/Output.h"
#include "Files/Json.h"

namespace valveladder::console {

Result<Drill> readDrill(const std::string& path) {
    auto text = readTextFile(path);
    if (!text)
        return text.problem();
    auto drill = drillFromJson(text.value());
    if (!drill)
        return Problem{drill.problem().what, path + ", " + drill.problem().where, drill.problem().remedy};
    return drill;
}

} // namespace valveladder::console
