#include "Base/Path.h"
#include "Console/Commands.h"
#include "Console/Output.h"
#include "Console/PlayedDrill.h"
#include "Console/PrintSheet.h"
#include "Engraving/SheetContents.h"
#include "Files/FileKinds.h"
#include "Files/MxlArchive.h"
#include "Files/PracticeSheet.h"
#include "Words/TempoWords.h"

#include <filesystem>
#include <memory>

namespace valveladder::console {

namespace {

struct Options {
    PlayedDrillOptions played;
    OutputOption output;
    PaperOption paper;
    SheetOptions sheet;
    bool noStrip = false;
    bool noFingerings = false;
    bool noAlternates = false;
};

/// What is to be written.
struct Sheet {
    const Score& score;
    const Drill& drill;
    const Instrument& instrument;
    double bpm = 0.0;
    SheetOptions options;
};

/// Names of the files written.
using Written = Result<std::vector<std::string>>;

Written writePrinted(Tool& tool, const Options& options, const Sheet& sheet) {
    auto content = drillContent(sheet.score, sheet.drill, sheet.instrument, sheet.bpm, sheet.options);
    if (!content)
        return content.problem();
    content.value().valveStrip = !options.noStrip;
    return printSheet(tool, options.output, content.value(), options.paper.paper());
}

Written writeMusicXml(Tool& tool, const Options& options, const Sheet& sheet) {
    auto text = practiceSheet(sheet.score, sheet.drill, sheet.instrument, sheet.bpm, sheet.options);
    if (!text)
        return text.problem();
    std::vector<std::uint8_t> bytes(text.value().begin(), text.value().end());
    if (hasMxlName(pathOf(options.output.path))) {
        auto zipped = writeMxl(mxlOf(std::move(bytes)));
        if (!zipped)
            return zipped.problem();
        bytes = std::move(zipped.value());
    }
    const auto done = deliver(tool, options.output, bytes);
    return done ? Written(std::vector{options.output.path}) : Written(done.problem());
}

Result<Done> sheet(Tool& tool, const Options& options) {
    auto played = playedDrill(tool, options.played);
    if (!played)
        return played.problem();
    const auto& [chosen, score] = played.value();
    SheetOptions asked = options.sheet;
    asked.fingerings = !options.noFingerings;
    asked.alternates = !options.noAlternates;
    const Sheet what{score, chosen.drill, chosen.instrument, chosen.bpm, asked};
    const Written files =
        isPrinted(options.output) ? writePrinted(tool, options, what) : writeMusicXml(tool, options, what);
    if (!files)
        return files.problem();
    if (options.output.toStandardOutput())
        return Done{};
    if (tool.json)
        tool.printJson({{"file", files.value().front()},
                        {"files", files.value()},
                        {"bpm", chosen.bpm},
                        {"rungs", score.rungLabels.size()},
                        {"segments", score.segmentNames.size()},
                        {"notes", score.notes.size()}});
    else
        for (const std::string& file : files.value())
            tool.print("{}: {}, {} notes at {} bpm\n", file, chosen.drill.name, score.notes.size(),
                       words::tempoText(chosen.bpm));
    return Done{};
}

} // namespace

void addSheet(CLI::App& app, Tool& tool) {
    auto options = std::make_shared<Options>();
    CLI::App* sub = app.add_subcommand(
        "sheet",
        "Write a drill as a practice sheet\n\nThe drill's notes as the instrument reads them, with "
        "fingerings, rhythms, accents, slurs, breath marks and tempo: printed (.pdf, or .svg with a file "
        "for each page), or as MusicXML 4.0 for a notation program (.musicxml, .mxl).");
    options->output.add(*sub, "The sheet: .pdf, .svg, .musicxml, or .mxl compressed")->required();
    sub->add_option("--title", options->sheet.title, "Its title (the drill's name)")->option_text("TEXT");
    sub->add_flag("--no-fingerings", options->noFingerings, "Without fingerings");
    sub->add_flag("--no-alternates", options->noAlternates, "The drill's fingerings alone");
    sub->add_flag("--no-strip", options->noStrip, "Printed without the valve strip");
    options->paper.add(*sub);
    options->played.tempo.add(*sub);
    options->played.drill.add(*sub);
    sub->footer("Examples:\n"
                "  valve-ladder sheet -o daily.pdf --bpm 60\n"
                "  valve-ladder sheet -o daily.musicxml --bpm 60\n"
                "  valve-ladder sheet -o spot.mxl --drill spot.json -i horn-f");
    sub->callback([&tool, options] { tool.job = [&tool, options] { return sheet(tool, *options); }; });
}

} // namespace valveladder::console
