#pragma once

#include <juce_gui_basics/juce_gui_basics.h>

#include <optional>

namespace valveladder {

/// What a key asks of the window.
enum class WindowCommand {
    rung,
    landing,
    stair,
    part,
    setUp,
    take,
    repeat,
    sound,
    exportPlace,
    messages,
    details,
    sides,
    undo,
    redo,
    clock,
    backToOwn
};

/// Nothing for a key that means nothing to the window.
[[nodiscard]] std::optional<WindowCommand> commandOf(const juce::KeyPress& key);
/// Keys that hosts use for their transport and their history.
[[nodiscard]] bool isTheHosts(const juce::KeyPress& key);

} // namespace valveladder
