#include "Targets.h"

#include "Records/Json.h"
#include "Score/Score.h"

namespace valveladder {

Complaint fuzzDrill(std::span<const std::uint8_t> bytes) {
    const std::string_view text{reinterpret_cast<const char*>(bytes.data()), bytes.size()};
    const Result<Drill> drill = drillFromJson(text);
    if (!drill) {
        if (drill.problem().where.empty() || drill.problem().remedy.empty())
            return "a refusal without place or remedy: " + drill.problem().text();
        return std::nullopt;
    }
    const Instrument& trumpet = *findInstrument("trumpet-b-flat");
    if (!checked(drill.value(), trumpet))
        return std::nullopt;
    if (const Result<Score> score = buildScore(drill.value(), trumpet, 60.0); score && score.value().empty())
        return "a drill in range without notes";
    const Result<Drill> again = drillFromJson(toJson(drill.value()));
    if (!again || !(again.value() == drill.value()))
        return "what was read and written reads differently";
    return std::nullopt;
}

} // namespace valveladder
