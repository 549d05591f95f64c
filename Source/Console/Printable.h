#pragma once

#include <string>
#include <string_view>

namespace valveladder::console {

// Names of players, drills, parts and files come from anywhere. On a terminal a control character in them
// could move the cursor, change colours or forge lines, and a direction mark turn a line round.

/// `text` on one line: blanks in place of line breaks and tabs, U+FFFD in place of other control and
/// direction characters and of bytes that are not UTF-8.
[[nodiscard]] std::string oneLine(std::string_view text);
/// The same for text of ours that may hold several lines.
[[nodiscard]] std::string printable(std::string_view text);

} // namespace valveladder::console
