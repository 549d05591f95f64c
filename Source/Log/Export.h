#pragma once

#include "Base/Problem.h"
#include "Log/LogStore.h"

#include <filesystem>
#include <string>

namespace valveladder {

// What players said of reports is taken for it, unless the takes are wanted `asHeard`; it is listed either
// way.

/// Takes as JSON (schema in Resources/log.schema.json).
[[nodiscard]] Result<std::string> exportJson(const LogStore& log, const TakeFilter& filter,
                                             bool asHeard = false);

/// Writes takes.csv, notes.csv, changes.csv, segments.csv, corrections.csv (RFC 4180, UTF-8, one row each)
/// into `folder`, which is made.
[[nodiscard]] Result<Done> exportCsv(const LogStore& log, const TakeFilter& filter,
                                     const std::filesystem::path& folder, bool asHeard = false);

} // namespace valveladder
