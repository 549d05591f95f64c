#pragma once

#include "Listening/Remark.h"

#include <string>
#include <vector>

namespace valveladder {

/// "2 segments not played". A log and an exported take keep this text, not the remark.
[[nodiscard]] std::string inWords(const Remark& remark);
[[nodiscard]] std::vector<std::string> inWords(const std::vector<Remark>& remarks);

/// Its label, "rung 2" where it has none. `rung` counts from 0.
[[nodiscard]] std::string rungInWords(const std::string& label, int rung);
/// Its name, "segment 2" where it has none. `segment` counts from 0.
[[nodiscard]] std::string segmentInWords(const std::string& name, int segment);

/// Remarks as a log or an exported take gives them back.
[[nodiscard]] std::vector<Remark> remarksFrom(std::vector<std::string> texts);

} // namespace valveladder
