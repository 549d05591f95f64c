#pragma once

#include <string>
#include <string_view>

namespace valveladder {

/// A field by RFC 4180, section 2, rules 5 to 7: quoted where it holds a comma, a quote or a line break.
[[nodiscard]] std::string csvField(std::string_view text);

} // namespace valveladder
