#pragma once

#include "Screen/Find.h"
#include "Screen/InventedLog.h"

#include <chrono>

namespace valveladder {

/// The plugin of the invented player of pictures::InventedLog, with sound running.
class PluginStage {
public:
    explicit PluginStage(const Preferences& preferences = {.welcomed = true});
    ~PluginStage();

    /// A block of silence goes by, with a note that begins in it or none.
    void block(bool note = false);

    pictures::InventedLog invented;
    Processor plugin;
};

/// The cautions that open a sitting have come, the log has been read, and nothing shows itself at work.
bool comesToRest(Window& window, const Processor& plugin);

} // namespace valveladder
