#pragma once

#include <string>
#include <string_view>

namespace valveladder {

/// A random UUID, version 4 (RFC 4122), lower case with hyphens.
[[nodiscard]] std::string newUuid();

/// The UUID of `name` in the space of another UUID: version 5 (RFC 9562 section 5.5, by SHA-1), the same each
/// time and everywhere. `space` must be a UUID.
[[nodiscard]] std::string namedUuid(const std::string& space, std::string_view name);

} // namespace valveladder
