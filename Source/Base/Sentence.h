#pragma once

#include <string>

namespace valveladder {

/// The text as a sentence of its own: with a capital letter, where it begins with one of a to z.
[[nodiscard]] std::string sentence(std::string text);

/// "1 change", "3 changes".
[[nodiscard]] std::string counted(long count, const std::string& what);

} // namespace valveladder
