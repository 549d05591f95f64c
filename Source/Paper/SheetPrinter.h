#pragma once

#include "Base/Problem.h"
#include "Engraving/SheetPages.h"

#include <cstdint>
#include <span>
#include <string>
#include <vector>

namespace valveladder {

// Pages on paper, by cairo: shapes stay shapes, and the fonts come along, so that they look the same wherever
// they are opened. Same input, same bytes.

/// One page as SVG 1.1; every sign and letter is a shape in the file. `title` is its <title>.
[[nodiscard]] Result<std::string> svgPage(const PrintedPage& page, const Paper& paper,
                                          const std::string& title);

/// All pages as PDF 1.5; words can be searched and copied.
[[nodiscard]] Result<std::string> pdfPages(std::span<const PrintedPage> pages, const Paper& paper,
                                           const std::string& title);

} // namespace valveladder
