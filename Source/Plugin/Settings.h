#pragma once

#include "Base/Problem.h"
#include "Ladder/Drill.h"
#include "Tempo/TempoPlan.h"
#include "Valves/Instrument.h"

#include <map>
#include <optional>
#include <string>
#include <string_view>

namespace valveladder {

/// What a plugin instance keeps beside its parameters.
struct Settings {
    std::string player = "Player";
    Instrument instrument = catalogue().front();
    Drill drill = defaultDrill(catalogue().front());
    TempoRules rules;
    std::optional<double> roundTripMs; ///< set by hand, 0..1000; absent = as measured, or none

    bool operator==(const Settings&) const = default;
};

/// A plugin's state as a host stores it: settings, and parameter values (in their own units) by id.
struct PluginState {
    Settings settings;
    std::map<std::string, double> parameters;

    bool operator==(const PluginState&) const = default;
};

/// Version of the state's format; older ones are read, newer ones refused.
inline constexpr int stateVersion = 1;
/// States longer than this are refused: no drill of ours comes near.
inline constexpr std::size_t maxStateBytes = 16U << 20U;

/// JSON text, UTF-8.
[[nodiscard]] std::string toStateText(const PluginState& state);

/// Reads what a host kept. Absent members take defaults. Refused with words: text that is not ours or was cut
/// off, a newer version, a member of the wrong type (with its path), and settings out of range.
[[nodiscard]] Result<PluginState> stateFromText(std::string_view text);

} // namespace valveladder
