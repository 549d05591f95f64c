#include "Plugin/Settings.h"

#include "Files/Json.h"

#include <cmath>
#include <fmt/format.h>
#include <nlohmann/json.hpp>

namespace valveladder {

namespace {

using nlohmann::json;

constexpr const char* stateFormat = "valve-ladder-state";
constexpr const char* stateName = "the plugin's state";
constexpr double maxRoundTripMs = 1000.0;

Problem refused(const std::string& what, const std::string& remedy = "the defaults are kept; set up anew") {
    return {what, stateName, remedy};
}

/// The member's value, or why it cannot be one; an absent member leaves `value` as it is.
template <typename T>
std::optional<Problem> take(const json& object, const char* member, T& value, bool rightType) {
    const auto found = object.find(member);
    if (found == object.end())
        return std::nullopt;
    if (!rightType)
        return refused(fmt::format("{} has the wrong type", member));
    value = found->template get<T>();
    return std::nullopt;
}

/// A member that has a JSON format of its own.
template <typename T>
std::optional<Problem> takePart(const json& object, const char* member, T& value,
                                Result<T> (*read)(std::string_view)) {
    const auto found = object.find(member);
    if (found == object.end())
        return std::nullopt;
    auto part = read(found->dump());
    if (!part)
        return refused(fmt::format("{}: {}", member, part.problem().text()));
    value = std::move(part.value());
    return std::nullopt;
}

std::optional<Problem> takeParameters(const json& object, std::map<std::string, double>& values) {
    const auto found = object.find("parameters");
    if (found == object.end())
        return std::nullopt;
    if (!found->is_object())
        return refused("parameters has the wrong type");
    for (const auto& [id, value] : found->items()) {
        if (!value.is_number() || !std::isfinite(value.get<double>()))
            return refused(fmt::format("parameters/{} is not a number", id));
        values[id] = value.get<double>();
    }
    return std::nullopt;
}

std::optional<Problem> takePlayer(const json& object, Settings& settings) {
    const auto player = object.find("player");
    return take(object, "player", settings.player, player != object.end() && player->is_string());
}

std::optional<Problem> takeRoundTrip(const json& object, Settings& settings) {
    const auto found = object.find("roundTripMs");
    if (found == object.end() || found->is_null())
        return std::nullopt;
    if (!found->is_number())
        return refused("roundTripMs has the wrong type");
    const auto ms = found->get<double>();
    if (!(ms >= 0.0 && ms <= maxRoundTripMs))
        return refused(fmt::format("roundTripMs is {}, not in 0 to {}", ms, maxRoundTripMs));
    settings.roundTripMs = ms;
    return std::nullopt;
}

std::optional<Problem> takeSettings(const json& object, Settings& settings) {
    if (auto problem = takePlayer(object, settings))
        return problem;
    if (auto problem = takePart(object, "instrument", settings.instrument, instrumentFromJson))
        return problem;
    settings.drill = defaultDrill(settings.instrument);
    if (auto problem = takePart(object, "drill", settings.drill, drillFromJson))
        return problem;
    if (auto problem = takePart(object, "rules", settings.rules, rulesFromJson))
        return problem;
    return takeRoundTrip(object, settings);
}

std::optional<Problem> outOfRange(const Settings& settings) {
    if (const auto instrument = checked(settings.instrument); !instrument)
        return refused("instrument: " + instrument.problem().text());
    if (const auto drill = checked(settings.drill, settings.instrument); !drill)
        return refused("drill: " + drill.problem().text());
    if (const auto rules = checked(settings.rules); !rules)
        return refused("rules: " + rules.problem().text());
    return std::nullopt;
}

/// Nothing when the header is ours and not newer.
std::optional<Problem> wrongHeader(const json& object) {
    if (!object.is_object() || object.value("format", json()) != json(stateFormat))
        return refused("this is not a state of Valve Ladder");
    const auto version = object.value("version", json());
    if (!version.is_number_integer() || version.get<std::int64_t>() < 1)
        return refused("the version is missing");
    if (version.get<std::int64_t>() > stateVersion)
        return refused(fmt::format("it was written by a newer version (format {}, this one reads up to {})",
                                   version.get<std::int64_t>(), stateVersion),
                       "update Valve Ladder, or set up anew; the defaults are kept");
    return std::nullopt;
}

} // namespace

std::string toStateText(const PluginState& state) {
    json object{{"format", stateFormat},
                {"version", stateVersion},
                {"player", state.settings.player},
                {"instrument", json::parse(toJson(state.settings.instrument))},
                {"drill", json::parse(toJson(state.settings.drill))},
                {"rules", json::parse(toJson(state.settings.rules))},
                {"parameters", state.parameters}};
    if (state.settings.roundTripMs)
        object["roundTripMs"] = *state.settings.roundTripMs;
    return object.dump(1, ' ', false, json::error_handler_t::replace);
}

Result<PluginState> stateFromText(std::string_view text) {
    if (text.size() > maxStateBytes)
        return refused(fmt::format("it is {} bytes long, more than any state of Valve Ladder", text.size()));
    const auto object = json::parse(text, nullptr, false);
    if (object.is_discarded())
        return refused("it is not readable, or was cut off");
    if (auto problem = wrongHeader(object))
        return *problem;
    PluginState state;
    if (auto problem = takeSettings(object, state.settings))
        return *problem;
    if (auto problem = takeParameters(object, state.parameters))
        return *problem;
    if (auto problem = outOfRange(state.settings))
        return *problem;
    return state;
}

} // namespace valveladder
