#pragma once

#include <optional>
#include <string>
#include <vector>

namespace valveladder {

/// A list of strings as it lies in one field of a row: a JSON array.
[[nodiscard]] std::string listToText(const std::vector<std::string>& list);
/// Nothing where the text is no such array.
[[nodiscard]] std::optional<std::vector<std::string>> listFromText(const std::string& text);

} // namespace valveladder
