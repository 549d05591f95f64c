#include "Console/Commands.h"
#include "Console/GuideOptions.h"
#include "Console/Output.h"
#include "Console/SteppedTakes.h"
#include "Files/GuideFile.h"
#include "Score/Score.h"
#include "Words/TempoWords.h"

#include <deque>
#include <memory>

namespace valveladder::console {

namespace {

struct Options {
    PlayedDrillOptions played;
    GuideOptions guide;
    OutputOption output;
    SteppedTakes stepped;
    bool tempoOnly = false;
};

void report(Tool& tool, const Options& options, const std::deque<Score>& scores) {
    if (options.output.toStandardOutput())
        return;
    Json takes = Json::array();
    double quarter = 0.0;
    double seconds = 0.0;
    if (!tool.json)
        tool.print("{}: {}\n{:>4}  {:>5}  {:>11}  {:>8}\n", options.output.path,
                   options.tempoOnly ? "tempo map" : "session", "take", "bpm", "at quarter", "at time");
    for (std::size_t i = 0; i < scores.size(); ++i) {
        takes.push_back(
            {{"take", i + 1}, {"bpm", scores[i].bpm}, {"startQuarter", quarter}, {"startSeconds", seconds}});
        if (!tool.json)
            tool.print("{:>4}  {:>5}  {:>11g}  {:>5}:{:02}\n", i + 1, words::tempoText(scores[i].bpm),
                       quarter, static_cast<int>(seconds) / 60, static_cast<int>(seconds) % 60);
        quarter += quartersOf(scores[i].length);
        seconds += secondsOf(scores[i].length, scores[i].bpm);
    }
    if (tool.json)
        tool.printJson({{"file", options.output.path}, {"takes", std::move(takes)}, {"seconds", seconds}});
}

Result<Done> session(Tool& tool, const Options& options) {
    auto settings = options.guide.settings();
    if (!settings)
        return settings.problem();
    auto chosen = options.played.choose(tool);
    if (!chosen)
        return chosen.problem();
    auto scores = options.stepped.scores(chosen.value());
    if (!scores)
        return scores.problem();
    const SmfFile file = sessionFile(sessionTakes(scores.value()), settings.value(),
                                     chosen.value().drill.name, options.tempoOnly);
    auto done = deliver(tool, options.output, writeSmf(file));
    if (done)
        report(tool, options, scores.value());
    return done;
}

} // namespace

void addSession(CLI::App& app, Tool& tool) {
    auto options = std::make_shared<Options>();
    CLI::App* sub = app.add_subcommand(
        "session",
        "Write a stepped session, or its tempo map, as a MIDI file\n\nTakes of the drill laid end to end, "
        "each a step faster. A plugin cannot set a host's tempo; imported into the host's tempo "
        "track, the tempo map does.");
    options->output.add(*sub, "The MIDI file")->required();
    options->stepped.add(*sub);
    sub->add_flag("--tempo-only", options->tempoOnly, "The tempo map with its markers, without notes");
    options->played.tempo.add(*sub);
    options->guide.add(*sub);
    options->played.drill.add(*sub);
    sub->footer("Examples:\n"
                "  valve-ladder session -o session.mid --bpm 60 --takes 5 --step 2\n"
                "  valve-ladder session -o tempo.mid --bpm 60 --takes 8 --tempo-only\n"
                "A take recorded over it: valve-ladder assess rec.mid --start QUARTER, from the\n"
                "table that this command prints.");
    sub->callback([&tool, options] { tool.job = [&tool, options] { return session(tool, *options); }; });
}

} // namespace valveladder::console
