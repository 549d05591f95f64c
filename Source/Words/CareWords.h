#pragma once

#include "Findings/Care.h"

#include <string>
#include <vector>

namespace valveladder {

/// A caution as it is shown.
struct CareText {
    std::string text;
    std::string source; ///< named, or "common practice, no source"
};

/// Both on one line.
[[nodiscard]] std::string withSource(const CareText& caution);
[[nodiscard]] CareText inWords(CareKind kind, const CareSettings& settings = {});
[[nodiscard]] std::vector<CareText> inWords(const std::vector<CareKind>& kinds, const CareSettings& settings);

} // namespace valveladder
