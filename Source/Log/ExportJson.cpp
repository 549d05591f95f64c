#include "Log/Export.h"

#include "Records/Json.h"

namespace valveladder {

Result<std::string> exportJson(const LogStore& log, const TakeFilter& filter, bool asHeard) {
    std::string text = R"({"format":"valve-ladder-log","version":1,"takes":[)";
    const char* separator = "\n";
    const auto write = [&](const TakeRecord& take) {
        text += separator;
        text += toJson(take);
        separator = ",\n";
        return true;
    };
    const auto visited = log.forEachTake(filter, write, {.asHeard = asHeard});
    if (!visited.ok())
        return visited.problem();
    return text + "\n]}\n";
}

} // namespace valveladder
