#pragma once

#include <string>
#include <string_view>

namespace valveladder {

/// `text` (UTF-8) as character data or an attribute's value in XML 1.0 (W3C, fifth edition, 2.2 and 2.4):
/// the five markup characters as entities, control characters, which XML does not allow, as spaces.
[[nodiscard]] std::string xmlText(std::string_view text);

} // namespace valveladder
