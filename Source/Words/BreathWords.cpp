#include "Words/BreathWords.h"

#include "Words/TempoWords.h"

#include <fmt/format.h>

namespace valveladder {

std::string inWords(const BreathWarning& warning) {
    return fmt::format("{}, segment {} lasts {:.1f} s at {} bpm, longer than a breath of {:.1f} s",
                       warning.rung, warning.segment + 1, warning.seconds, words::tempoText(warning.bpm),
                       warning.breathSeconds);
}

} // namespace valveladder
