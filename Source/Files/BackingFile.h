#pragma once

#include "Files/GuideFile.h"
#include "Music/Backing.h"

namespace valveladder {

/// Backing loops as format 1: a track of tempo, meter and markers, then one for each part that plays. One lap
/// each of the takes' scores at their tempos, laid end to end: a single take is a loop of exactly whole bars,
/// several are a tempo-stepped set.
[[nodiscard]] SmfFile backingFile(std::span<const SessionTake> takes, const BackingSettings& settings,
                                  const std::string& title);

} // namespace valveladder
