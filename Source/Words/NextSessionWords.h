#pragma once

#include "Findings/NextSession.h"

#include <string>
#include <vector>

namespace valveladder {

/// "Warm up, then three rounds of 1 to 4".
[[nodiscard]] std::string roundsInWords(const PracticeSession& session);
/// "G3-A3 back and forth (1-3, 1-2)", written pitch.
[[nodiscard]] std::string whatInWords(const SessionItem& item, const Instrument& instrument);
/// "for your third finger going down".
[[nodiscard]] std::string whyInWords(const SessionItem& item, const Instrument& instrument);
/// The warm-up and each thing once, numbered, and where a long rest comes in a later round: "1. G3-A3 back
/// and forth (1-3, 1-2); 0:28, then rest 0:11: for your third finger going down".
[[nodiscard]] std::vector<std::string> linesOf(const PracticeSession& session);
/// That there is too little time, and what is known of mixing where the session mixes.
[[nodiscard]] std::vector<std::string> remarksOn(const PracticeSession& session);

/// Said wherever a session mixes drills.
inline constexpr const char* mixingRemark =
    "Weak changes come back mixed rather than in blocks. The evidence for mixing is itself mixed: it was "
    "tried "
    "with ten clarinettists (Carter & Grahn 2016), and made no main effect with nineteen beginners.";

} // namespace valveladder
