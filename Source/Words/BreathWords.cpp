#include "Words/BreathWords.h"

#include <fmt/format.h>

namespace valveladder {

std::string inWords(const BreathWarning& warning) {
    return fmt::format("{}, segment {} lasts {:.1f} s at {:.4g} bpm, longer than a breath of {:.1f} s",
                       warning.rung, warning.segment + 1, warning.seconds, warning.bpm,
                       warning.breathSeconds);
}

} // namespace valveladder
