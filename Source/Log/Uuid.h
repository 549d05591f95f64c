#pragma once

#include <string>

namespace valveladder {

/// A random UUID, version 4 of RFC 9562 (section 5.4), lower case: the stable id of a take.
[[nodiscard]] std::string newUuid();

} // namespace valveladder
