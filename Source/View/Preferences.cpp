#include "View/Preferences.h"

#include "Base/FileBytes.h"
#include "Base/Path.h"
#include "Log/LogStore.h"
#include "View/Words.h"

#include <algorithm>
#include <fstream>
#include <nlohmann/json.hpp>

namespace valveladder {

namespace {

constexpr int spellings = 4;
constexpr int heardWays = 3;

} // namespace

std::filesystem::path preferencesPath() {
    return defaultLogPath().parent_path() / "screen.json";
}

Preferences readPreferences(const std::filesystem::path& path) {
    Preferences preferences;
    std::ifstream file(path);
    const auto json = nlohmann::json::parse(file, nullptr, false);
    if (!json.is_object())
        return preferences;
    const auto flag = [&json](const char* name, bool& value) {
        if (const auto found = json.find(name); found != json.end() && found->is_boolean())
            value = found->get<bool>();
    };
    const auto number = [&json](const char* name, int low, int high, int value) {
        const auto found = json.find(name);
        return found != json.end() && found->is_number_integer() ? std::clamp(found->get<int>(), low, high)
                                                                 : value;
    };
    flag("dark", preferences.dark);
    flag("reducedMotion", preferences.reducedMotion);
    flag("soundingNames", preferences.soundingNames);
    flag("ownTransportKeys", preferences.ownTransportKeys);
    flag("welcomed", preferences.welcomed);
    flag("openResult", preferences.openResult);
    flag("loudspeaker", preferences.loudspeaker);
    preferences.scalePercent =
        number("scalePercent", Preferences::smallestScale, Preferences::largestScale, 100);
    if (const int chosen = number("spelling", -1, spellings - 1, -1); chosen >= 0)
        preferences.spelling = static_cast<Spelling>(chosen);
    preferences.heardBy = static_cast<HeardBy>(number("heardBy", 0, heardWays - 1, 0));
    return preferences;
}

Result<Done> writePreferences(const std::filesystem::path& path, const Preferences& preferences) {
    const nlohmann::json json{
        {"dark", preferences.dark},
        {"scalePercent", preferences.scalePercent},
        {"reducedMotion", preferences.reducedMotion},
        {"spelling", preferences.spelling ? static_cast<int>(*preferences.spelling) : -1},
        {"soundingNames", preferences.soundingNames},
        {"ownTransportKeys", preferences.ownTransportKeys},
        {"welcomed", preferences.welcomed},
        {"openResult", preferences.openResult},
        {"heardBy", static_cast<int>(preferences.heardBy)},
        {"loudspeaker", preferences.loudspeaker}};
    std::error_code ignored;
    std::filesystem::create_directories(path.parent_path(), ignored);
    const std::string text = json.dump(2) + "\n";
    const auto bytes = std::span(reinterpret_cast<const std::uint8_t*>(text.data()), text.size());
    if (!writeFileBytes(path, bytes))
        return Problem{words::displayNotKept, pathText(path), words::otherFolder};
    return Done{};
}

} // namespace valveladder
