#pragma once

#include "Base/Problem.h"
#include "Plugin/Controls.h"
#include "Session/SessionSetup.h"

#include <string>
#include <string_view>

namespace valveladder {

/// A plugin's state as a host stores it: what is practised, and the parameters.
struct PluginState {
    SessionConfig config;
    ParameterValues parameters;

    bool operator==(const PluginState&) const = default;
};

/// Version of the state's format; older ones are read, newer ones refused. 2 came with our own sound: what is
/// absent of it takes the default of where it runs.
inline constexpr int stateVersion = 2;
/// States longer than this are refused: no drill of ours comes near.
inline constexpr std::size_t maxStateBytes = 16U << 20U;

/// JSON text, UTF-8.
[[nodiscard]] std::string toStateText(const PluginState& state);

/// Reads what a host kept. Absent members take defaults. Refused with words: text that is not ours or was cut
/// off, a newer version, a member of the wrong type (with its path), and a configuration out of range.
[[nodiscard]] Result<PluginState> stateFromText(std::string_view text);

} // namespace valveladder
