#pragma once

#include "Console/CommandText.h"

#include <string>

namespace valveladder::console {

/// The manual page in roff (man(7) of the Linux man-pages), section 1: every command and option with the
/// words of --help. `version` stands in its foot.
[[nodiscard]] std::string manualPage(const CommandText& program, const std::string& version);

} // namespace valveladder::console
