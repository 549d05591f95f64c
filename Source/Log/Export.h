#pragma once

#include "Base/Problem.h"
#include "Log/LogStore.h"

#include <filesystem>
#include <string>

namespace valveladder {

/// Takes as JSON (schema in Resources/log.schema.json).
[[nodiscard]] Result<std::string> exportJson(const LogStore& log, const TakeFilter& filter);

/// Writes takes.csv, notes.csv, changes.csv, segments.csv (RFC 4180, UTF-8, one row each) into `folder`,
/// which is made.
[[nodiscard]] Result<Done> exportCsv(const LogStore& log, const TakeFilter& filter,
                                     const std::filesystem::path& folder);

} // namespace valveladder
