#pragma once

#include "Console/AssessTake.h"

namespace valveladder::console {

/// A recorded Standard MIDI File against the drill.
[[nodiscard]] Result<Listened> listenToMidiFile(const AssessOptions& options);

} // namespace valveladder::console
