#include "Plugin/State.h"

#include "Base/Version.h"
#include "Records/Json.h"
#include "View/PluginWords.h"

#include <cmath>
#include <fmt/format.h>
#include <nlohmann/json.hpp>

namespace valveladder {

namespace {

using nlohmann::json;

constexpr const char* stateFormat = "valve-ladder-state";

Problem refused(const std::string& what, const std::string& remedy = words::defaultsKept) {
    return {what, words::stateName, remedy};
}

using Trouble = std::optional<Problem>;

bool is(const json& value, const std::string&) {
    return value.is_string();
}
bool is(const json& value, const bool&) {
    return value.is_boolean();
}
bool is(const json& value, const int&) {
    return value.is_number_integer();
}
bool is(const json& value, const std::optional<double>&) {
    return value.is_number();
}
bool is(const json& value, const double&) {
    return value.is_number();
}

/// Reads a plain member into `value`; an absent or null one leaves it as it is.
template <typename T>
Trouble takePlain(const json& object, const char* member, T& value) {
    const auto found = object.find(member);
    if (found == object.end() || found->is_null())
        return std::nullopt;
    if (!is(*found, value))
        return refused(words::wrongType(member));
    if constexpr (std::is_same_v<T, std::optional<double>>)
        value = found->template get<double>();
    else
        value = found->template get<T>();
    return std::nullopt;
}

/// A member that has a JSON format of its own.
template <typename T>
Trouble takePart(const json& object, const char* member, T& value, Result<T> (*read)(std::string_view)) {
    const auto found = object.find(member);
    if (found == object.end())
        return std::nullopt;
    auto part = read(found->dump());
    if (!part)
        return refused(fmt::format("{}: {}", member, part.problem().text()));
    value = std::move(part.value());
    return std::nullopt;
}

Trouble takeParameters(const json& object, ParameterValues& values) {
    const auto found = object.find("parameters");
    if (found == object.end())
        return std::nullopt;
    if (!found->is_object())
        return refused(words::wrongType("parameters"));
    for (const auto& [id, value] : found->items()) {
        if (!value.is_number() || !std::isfinite(value.get<double>()))
            return refused(words::notANumber("parameters/" + id));
        values[id] = value.get<double>();
    }
    return std::nullopt;
}

Trouble takePedal(const json& object, const char* member, Pedal& pedal) {
    const auto found = object.find(member);
    if (found == object.end())
        return std::nullopt;
    if (!found->is_object())
        return refused(words::wrongType(member));
    if (auto trouble = takePlain(*found, "note", pedal.note))
        return trouble;
    return takePlain(*found, "controller", pedal.controller);
}

Trouble takePedals(const json& object, Pedals& pedals) {
    for (const auto& [member, pedal] :
         {std::pair{"start", &pedals.start}, {"mark", &pedals.mark}, {"repeat", &pedals.repeat}})
        if (auto trouble = takePedal(object, member, *pedal))
            return trouble;
    return std::nullopt;
}

json pedalJson(const Pedal& pedal) {
    return {{"note", pedal.note}, {"controller", pedal.controller}};
}

Trouble takeKeepSound(const json& object, KeepSound& keep) {
    const auto found = object.find("keepSound");
    if (found == object.end())
        return std::nullopt;
    if (!found->is_object())
        return refused(words::wrongType("keepSound"));
    if (auto trouble = takePlain(*found, "on", keep.on))
        return trouble;
    if (auto trouble = takePlain(*found, "limitMb", keep.limitMb))
        return trouble;
    return takePlain(*found, "dropOldest", keep.dropOldest);
}

Trouble takeCare(const json& object, CareSettings& care) {
    const auto found = object.find("care");
    if (found == object.end())
        return std::nullopt;
    if (!found->is_object())
        return refused(words::wrongType("care"));
    for (const auto& [member, value] : {std::pair{"handCheck", &care.handCheck},
                                        {"restReminder", &care.restReminder},
                                        {"firmValves", &care.firmValves},
                                        {"hearing", &care.hearing}})
        if (auto trouble = takePlain(*found, member, *value))
            return trouble;
    if (auto trouble = takePlain(*found, "restAfterMinutes", care.restAfterMinutes))
        return trouble;
    return takePlain(*found, "restMinutes", care.restMinutes);
}

json careJson(const CareSettings& care) {
    return {{"handCheck", care.handCheck},
            {"restReminder", care.restReminder},
            {"firmValves", care.firmValves},
            {"hearing", care.hearing},
            {"restAfterMinutes", care.restAfterMinutes},
            {"restMinutes", care.restMinutes}};
}

Trouble takePlan(const json& object, SessionConfig& config) {
    if (auto trouble = takePart(object, "instrument", config.instrument, instrumentFromJson))
        return trouble;
    config.drill = defaultDrill(config.instrument);
    if (auto trouble = takePart(object, "drill", config.drill, drillFromJson))
        return trouble;
    return takePart(object, "rules", config.rules, rulesFromJson);
}

/// One that cannot be read is left out: what is practised now does not hang on it.
void takeDaily(const json& object, SessionConfig& config) {
    const auto found = object.find("daily");
    if (found == object.end() || !found->is_object())
        return;
    DailyDrill daily;
    if (takePlain(*found, "instrument", daily.instrumentId) ||
        takePart(*found, "drill", daily.drill, drillFromJson) ||
        takePart(*found, "rules", daily.rules, rulesFromJson))
        return;
    config.daily = std::move(daily);
}

Trouble takeConfig(const json& object, SessionConfig& config) {
    if (auto trouble = takePlain(object, "player", config.player))
        return trouble;
    if (auto trouble = takePlain(object, "invented", config.invented))
        return trouble;
    if (auto trouble = takePlain(object, "roundTripMs", config.roundTripMs))
        return trouble;
    if (auto trouble = takePedals(object, config.pedals))
        return trouble;
    if (auto trouble = takeKeepSound(object, config.keepSound))
        return trouble;
    if (auto trouble = takeCare(object, config.care))
        return trouble;
    takeDaily(object, config);
    return takePlan(object, config);
}

/// Nothing when the header is ours and not newer.
Trouble wrongHeader(const json& object) {
    if (!object.is_object() || object.value("format", json()) != json(stateFormat))
        return refused(words::notOurState);
    const auto version = object.value("version", json());
    if (!version.is_number_integer() || version.get<std::int64_t>() < 1)
        return refused(words::stateWithoutVersion);
    if (version.get<std::int64_t>() > stateVersion)
        return refused(words::newerState(version.get<std::int64_t>(), stateVersion),
                       words::updateOrSetUpAnew);
    return std::nullopt;
}

} // namespace

std::string toStateText(const PluginState& state) {
    const SessionConfig& config = state.config;
    json object{{"format", stateFormat},
                {"version", stateVersion},
                {"program", programVersion()},
                {"player", config.player},
                {"instrument", json::parse(toJson(config.instrument))},
                {"drill", json::parse(toJson(config.drill))},
                {"rules", json::parse(toJson(config.rules))},
                {"start", pedalJson(config.pedals.start)},
                {"mark", pedalJson(config.pedals.mark)},
                {"repeat", pedalJson(config.pedals.repeat)},
                {"invented", config.invented},
                {"keepSound",
                 {{"on", config.keepSound.on},
                  {"limitMb", config.keepSound.limitMb},
                  {"dropOldest", config.keepSound.dropOldest}}},
                {"care", careJson(config.care)},
                {"parameters", state.parameters}};
    if (config.roundTripMs)
        object["roundTripMs"] = *config.roundTripMs;
    if (config.daily)
        object["daily"] = {{"instrument", config.daily->instrumentId},
                           {"drill", json::parse(toJson(config.daily->drill))},
                           {"rules", json::parse(toJson(config.daily->rules))}};
    return object.dump(1, ' ', false, json::error_handler_t::replace);
}

Result<PluginState> stateFromText(std::string_view text) {
    if (text.size() > maxStateBytes)
        return refused(words::stateTooLong(text.size()));
    const auto object = json::parse(text, nullptr, false);
    if (object.is_discarded())
        return refused(words::stateUnreadable);
    if (auto trouble = wrongHeader(object))
        return *trouble;
    PluginState state;
    if (auto trouble = takeConfig(object, state.config))
        return *trouble;
    if (auto trouble = takeParameters(object, state.parameters))
        return *trouble;
    if (const auto valid = checked(state.config); !valid)
        return refused(valid.problem().text());
    return state;
}

} // namespace valveladder
