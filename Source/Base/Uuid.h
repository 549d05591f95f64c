#pragma once

#include <string>

namespace valveladder {

/// A random UUID, version 4 (RFC 4122), lower case with hyphens.
[[nodiscard]] std::string newUuid();

} // namespace valveladder
