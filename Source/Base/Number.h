#pragma once

#include <optional>
#include <string_view>

namespace valveladder {

// Numbers as files and command lines write them: with a point, whatever the process's locale says (hosts set
// it). Numbers out are fmt's, which asks no locale either.

/// The decimal number that is the whole of `text`; "inf" and "nan" are such, for the caller to refuse.
[[nodiscard]] std::optional<double> decimalIn(std::string_view text);
/// The whole number that is the whole of `text`, if it fits.
[[nodiscard]] std::optional<int> integerIn(std::string_view text);

/// The decimal number at the start of `text`, after blanks and perhaps a '+'; what follows does not matter.
[[nodiscard]] std::optional<double> leadingDecimal(std::string_view text);
/// The same for a whole number, which is taken off `text`; where there is none, `text` stays.
[[nodiscard]] std::optional<int> takeInteger(std::string_view& text);

} // namespace valveladder
