#pragma once

#include "Console/Output.h"
#include "Engraving/SheetPages.h"

#include <string>
#include <vector>

namespace valveladder::console {

/// "--paper NAME".
struct PaperOption {
    std::string name = "a4";

    void add(CLI::App& app);
    [[nodiscard]] Paper paper() const { return name == "letter" ? Paper::letter() : Paper::a4(); }
};

/// Whether a name asks for a printed page: it ends in .pdf or .svg.
[[nodiscard]] bool isPrinted(const OutputOption& output);

/// Writes pages as the name's ending says and returns the names written: one PDF, or an SVG for each page,
/// NAME-1.svg, NAME-2.svg ... where there are several.
[[nodiscard]] Result<std::vector<std::string>> printSheet(Tool& tool, const OutputOption& output,
                                                          const SheetContent& content, const Paper& paper);

} // namespace valveladder::console
