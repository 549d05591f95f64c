#pragma once

#include "Findings/SideBySide.h"

#include <string>

namespace valveladder {

[[nodiscard]] std::string sideText(const SideBySide& sides);
/// RFC 4180, UTF-8, one row for each note and group.
[[nodiscard]] std::string sideCsv(const SideBySide& sides, const Score& score);
[[nodiscard]] std::string sideJson(const SideBySide& sides, const Score& score);
/// A picture of one measure, self-contained; groups differ in shape as well as colour.
[[nodiscard]] std::string sideSvg(const SideBySide& sides, const Score& score, SideMeasure measure);

} // namespace valveladder
