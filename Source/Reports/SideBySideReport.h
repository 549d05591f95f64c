#pragma once

#include "Findings/SideBySide.h"
#include "Valves/Instrument.h"

#include <string>

namespace valveladder {

/// `thumbValve`: of the instrument.
[[nodiscard]] std::string sideText(const SideBySide& sides, bool thumbValve);
/// RFC 4180, UTF-8, one row for each note and group. `instrument`, here and below, is the one that `score` is
/// for.
[[nodiscard]] std::string sideCsv(const SideBySide& sides, const Score& score, const Instrument& instrument);
[[nodiscard]] std::string sideJson(const SideBySide& sides, const Score& score, const Instrument& instrument);
/// A picture of one measure, self-contained; groups differ in shape as well as colour.
[[nodiscard]] std::string sideSvg(const SideBySide& sides, const Score& score, const Instrument& instrument,
                                  NoteMeasure measure);

} // namespace valveladder
