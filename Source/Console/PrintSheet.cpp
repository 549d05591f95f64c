#include "Console/PrintSheet.h"

#include "Base/Path.h"
#include "Files/FileKinds.h"
#include "Paper/SheetPrinter.h"

#include <filesystem>
#include <string_view>

namespace valveladder::console {

namespace {

constexpr std::string_view pdfEnding = ".pdf";
constexpr std::string_view svgEnding = ".svg";

std::string ending(const OutputOption& output) {
    return endingOf(pathOf(output.path));
}

/// "name.svg" to "name-2.svg".
OutputOption pageName(const OutputOption& output, std::size_t page) {
    const std::filesystem::path path = pathOf(output.path);
    OutputOption numbered = output;
    numbered.path = pathText(path.parent_path() / pathOf(fmt::format("{}-{}{}", pathText(path.stem()), page,
                                                                     pathText(path.extension()))));
    return numbered;
}

} // namespace

void PaperOption::add(CLI::App& app) {
    app.add_option("--paper", name, "Of a printed sheet: a4 or letter (a4)")
        ->option_text("NAME")
        ->check(CLI::IsMember({"a4", "letter"}));
}

bool isPrinted(const OutputOption& output) {
    return ending(output) == pdfEnding || ending(output) == svgEnding;
}

Result<std::vector<std::string>> printSheet(Tool& tool, const OutputOption& output,
                                            const SheetContent& content, const Paper& paper) {
    const std::vector<PrintedPage> pages = printedPages(content, paper);
    std::vector<std::string> names;
    const auto keep = [&](const OutputOption& to, const Result<std::string>& text) -> Result<Done> {
        if (!text)
            return text.problem();
        names.push_back(to.path);
        return deliver(tool, to, text.value());
    };
    if (ending(output) == pdfEnding) {
        const auto done = keep(output, pdfPages(pages, paper, content.title));
        return done ? Result<std::vector<std::string>>(names) : done.problem();
    }
    for (std::size_t page = 0; page < pages.size(); ++page) {
        const auto done = keep(pages.size() == 1 ? output : pageName(output, page + 1),
                               svgPage(pages[page], paper, content.title));
        if (!done)
            return done.problem();
    }
    return names;
}

} // namespace valveladder::console
