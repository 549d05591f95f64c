#include "Console/Commands.h"
#include "Console/DrillOptions.h"
#include "Console/LogOptions.h"
#include "Console/Output.h"
#include "Files/MxlArchive.h"
#include "Files/PracticeSheet.h"

#include <filesystem>
#include <memory>

namespace valveladder::console {

namespace {

struct Options {
    DrillOptions drill;
    TempoOption tempo;
    OutputOption output;
    SheetOptions sheet;
    bool noFingerings = false;
    bool noAlternates = false;
};

Result<Done> write(Tool& tool, const Options& options, const std::string& text) {
    if (std::filesystem::path(options.output.path).extension() != ".mxl")
        return deliver(tool, options.output, text);
    auto bytes = writeMxl(mxlOf({text.begin(), text.end()}));
    return bytes ? deliver(tool, options.output, bytes.value()) : Result<Done>(bytes.problem());
}

Result<Done> sheet(Tool& tool, const Options& options) {
    auto chosen = options.drill.choose();
    if (!chosen)
        return chosen.problem();
    const auto& [instrument, drill, rules] = chosen.value();
    auto bpm = options.tempo.choose(tool, instrument.id, drill.name, rules);
    if (!bpm)
        return bpm.problem();
    auto score = buildScore(drill, instrument, bpm.value());
    if (!score)
        return score.problem();
    SheetOptions asked = options.sheet;
    asked.fingerings = !options.noFingerings;
    asked.alternates = !options.noAlternates;
    auto text = practiceSheet(score.value(), drill, instrument, bpm.value(), asked);
    if (!text)
        return text.problem();
    auto done = write(tool, options, text.value());
    if (!done || options.output.toStandardOutput())
        return done;
    if (tool.json)
        tool.printJson({{"file", options.output.path},
                        {"bpm", bpm.value()},
                        {"rungs", score.value().rungLabels.size()},
                        {"segments", score.value().segmentNames.size()},
                        {"notes", score.value().notes.size()}});
    else
        tool.print("{}: {}, {} notes at {:g} bpm\n", options.output.path, drill.name,
                   score.value().notes.size(), bpm.value());
    return done;
}

} // namespace

void addSheet(CLI::App& app, Tool& tool) {
    auto options = std::make_shared<Options>();
    CLI::App* sub = app.add_subcommand(
        "sheet", "Write a drill as a practice sheet for notation programs\n\nMusicXML 4.0: the drill's "
                 "notes as the instrument reads them, with fingerings, rhythms, accents, slurs, breath marks "
                 "and tempo. "
                 "A notation program prints it.");
    options->output.add(*sub, "The sheet, .musicxml, or .mxl compressed")->required();
    sub->add_option("--title", options->sheet.title, "Its title (the drill's name)")->option_text("TEXT");
    sub->add_flag("--no-fingerings", options->noFingerings, "Without fingerings");
    sub->add_flag("--no-alternates", options->noAlternates, "The drill's fingerings alone");
    options->tempo.add(*sub);
    options->drill.add(*sub);
    sub->footer("Examples:\n"
                "  valve-ladder sheet -o daily.musicxml --bpm 60\n"
                "  valve-ladder sheet -o spot.mxl --drill spot.json -i horn-f");
    sub->callback([&tool, options] { tool.job = [&tool, options] { return sheet(tool, *options); }; });
}

} // namespace valveladder::console
