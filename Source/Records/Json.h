#pragma once

#include "Base/Problem.h"
#include "Ladder/Drill.h"
#include "Records/TakeRecord.h"
#include "Tempo/TempoPlan.h"
#include "Valves/Instrument.h"

#include <optional>
#include <string>
#include <string_view>

namespace valveladder {

/// Drills, instruments, rules and takes as JSON text with a "format" and "version" member. Reading accepts
/// older versions, fills absent members with defaults, and refuses newer ones and wrong types with the
/// member's path. Readers do not judge ranges: call checked() on what they yield.
[[nodiscard]] std::string toJson(const Drill& drill);
[[nodiscard]] Result<Drill> drillFromJson(std::string_view text);
/// A drill with the tempo plan that belongs to it, as its member "tempo"; drillFromJson reads the drill.
[[nodiscard]] std::string toJson(const Drill& drill, const TempoRules& rules);
/// The tempo plan of a drill's text; nothing where it holds none.
[[nodiscard]] Result<std::optional<TempoRules>> drillRulesFromJson(std::string_view text);

[[nodiscard]] std::string toJson(const Instrument& instrument);
[[nodiscard]] Result<Instrument> instrumentFromJson(std::string_view text);

[[nodiscard]] std::string toJson(const TempoRules& rules);
[[nodiscard]] Result<TempoRules> rulesFromJson(std::string_view text);

[[nodiscard]] std::string toJson(const TakeRecord& record);
[[nodiscard]] Result<TakeRecord> takeFromJson(std::string_view text);

/// A take that has begun.
[[nodiscard]] std::string toJson(const TakeHeader& header);
[[nodiscard]] Result<TakeHeader> takeHeaderFromJson(std::string_view text);

} // namespace valveladder
