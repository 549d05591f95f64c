#pragma once

#include "Findings/NextSession.h"

#include <string>
#include <vector>

namespace valveladder {

/// "Warm up, then exercises 1 to 3, ten times through: about 19 minutes with rests, at 66 bpm".
[[nodiscard]] std::string inWords(const PracticeSession& session);
/// Of the whole session, rests included: "19 minutes", 1 at least.
[[nodiscard]] std::string minutesInWords(const PracticeSession& session);
/// "G3-A3 back and forth (1-3, 1-2)", written pitch.
[[nodiscard]] std::string whatInWords(const SessionItem& item, const Instrument& instrument);
/// "for your third finger going down".
[[nodiscard]] std::string whyInWords(const SessionItem& item, const Instrument& instrument);
/// The warm-up and each thing once, as a numbered exercise, and where a long rest comes in a later round:
/// "1. G3-A3 back and forth (1-3, 1-2); 28 s, then rest 11 s: for your third finger going down".
[[nodiscard]] std::vector<std::string> linesOf(const PracticeSession& session);
/// That there is too little time, and what is known of mixing where the session mixes.
[[nodiscard]] std::vector<std::string> remarksOn(const PracticeSession& session);

/// Said wherever a session mixes drills.
inline constexpr const char* mixingRemark =
    "Weak changes come back mixed rather than in blocks. The evidence for mixing is itself mixed: it was "
    "tried with ten clarinettists (Carter & Grahn 2016), and made no main effect with nineteen beginners.";

} // namespace valveladder
