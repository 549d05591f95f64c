#pragma once

#include "Base/Problem.h"

#include <span>
#include <vector>

namespace valveladder {

/// What a bar says about the order in which bars are played.
struct BarSigns {
    bool repeatStart = false;
    int repeatTimes = 0;      ///< times in all that a repeat ending here is played; 0 = no repeat ends here
    std::vector<int> endings; ///< passes of the ending that this bar lies in; empty outside endings
    bool endingStart = false;
    bool segno = false;
    bool coda = false;
    bool toCoda = false; ///< after this bar, once da capo or dal segno has been taken
    bool fine = false;   ///< likewise
    bool daCapo = false;
    bool dalSegno = false;

    bool operator==(const BarSigns&) const = default;
};

/// Longer pieces are refused: three hours of 1/8 bars at 300 hold fewer.
inline constexpr std::size_t maxPlayedBars = 200000;

/// Bars in the order played. Repeats are taken as often as they say, each pass with its ending; after da capo
/// or dal segno they are passed over and the last ending is played (common practice, no source).
[[nodiscard]] Result<std::vector<int>> playOrder(std::span<const BarSigns> bars);

} // namespace valveladder
