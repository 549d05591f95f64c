#pragma once

#include "Console/AssessTake.h"

namespace valveladder::console {

/// A recording (WAV, AIFF, FLAC at any rate, one channel or all mixed) against the drill. Tempo and start
/// that are not given are found in a first hearing; a second one then knows them.
[[nodiscard]] Result<Listened> listenToSoundFile(const AssessOptions& options, const ShareDone& progress);

} // namespace valveladder::console
