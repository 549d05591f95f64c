#pragma once

#include "Score/Score.h"

#include <string>

namespace valveladder {

/// "F#3-C4, segment 2 lasts 13.0 s at 30 bpm, longer than a breath of 12.0 s".
[[nodiscard]] std::string inWords(const BreathWarning& warning);

} // namespace valveladder
