#pragma once

#include "Findings/Suspect.h"

#include <string>
#include <vector>

namespace valveladder {

/// "3 pressing", "1-2 to 2-3 (1 releasing, 3 pressing)", "3 pressing after 0", "the fourth valve", "3 in
/// place of 1-2". `thumbValve` writes T for valve 4.
[[nodiscard]] std::string inWords(const Suspect& suspect, bool thumbValve = false);
/// "third finger", "fourth-valve finger", "thumb". `finger` 1..maxValves.
[[nodiscard]] std::string fingerInWords(int finger, bool thumbValve = false);
/// "Your third finger goes down", the beginning of a sentence that "25 ms late" ends.
[[nodiscard]] std::string asSubject(const Suspect& suspect, bool thumbValve = false);
/// "1 pressing, 2 pressing, 3 releasing".
[[nodiscard]] std::string namesOf(const std::vector<Suspect>& suspects, bool thumbValve = false);
/// "1 pressing, 2 pressing and 3 releasing".
[[nodiscard]] std::string inWords(const std::vector<Suspect>& suspects, bool thumbValve = false);

} // namespace valveladder
