#include "Console/Commands.h"
#include "Console/GuideOptions.h"
#include "Console/Output.h"
#include "Console/PlayedDrill.h"
#include "Files/GuideFile.h"
#include "Words/BreathWords.h"
#include "Words/TempoWords.h"

#include <memory>

namespace valveladder::console {

namespace {

struct Options {
    PlayedDrillOptions played;
    GuideOptions guide;
    OutputOption output;
};

void report(Tool& tool, const Options& options, const Score& score, double bpm) {
    const double seconds = secondsOf(score.length, bpm);
    if (options.output.toStandardOutput())
        return;
    if (tool.json)
        tool.printJson({{"file", options.output.path},
                        {"bpm", bpm},
                        {"notes", score.notes.size()},
                        {"quarters", quartersOf(score.length)},
                        {"seconds", seconds}});
    else
        tool.print("{}: {} notes at {} bpm, {:.0f} s\n", options.output.path, score.notes.size(),
                   words::tempoText(bpm), seconds);
}

Result<Done> guide(Tool& tool, const Options& options) {
    auto settings = options.guide.settings();
    if (!settings)
        return settings.problem();
    auto played = playedDrill(tool, options.played);
    if (!played)
        return played.problem();
    const auto& [chosen, score] = played.value();
    for (const BreathWarning& warning : breathWarnings(score, chosen.drill, chosen.bpm))
        tool.warn(inWords(warning));
    const SmfFile file = guideFile(score, chosen.bpm, settings.value(), chosen.drill.name);
    auto done = deliver(tool, options.output, writeSmf(file));
    if (done)
        report(tool, options, score, chosen.bpm);
    return done;
}

} // namespace

void addGuide(CLI::App& app, Tool& tool) {
    auto options = std::make_shared<Options>();
    CLI::App* sub = app.add_subcommand(
        "guide",
        "Write a drill's guide as a MIDI file\n\nOne pass of the drill with tempo, meter and markers, "
        "its notes, click and valve lanes: a Standard MIDI File of format 1.");
    options->output.add(*sub, "The MIDI file")->required();
    options->played.tempo.add(*sub);
    options->guide.add(*sub);
    options->played.drill.add(*sub);
    sub->footer("Examples:\n"
                "  valve-ladder guide -o guide.mid --bpm 60\n"
                "  valve-ladder guide -o today.mid --player Ann      at the plan's tempo\n"
                "  valve-ladder guide -o written.mid --bpm 72 --written -d daily.json -i horn-f");
    sub->callback([&tool, options] { tool.job = [&tool, options] { return guide(tool, *options); }; });
}

} // namespace valveladder::console
