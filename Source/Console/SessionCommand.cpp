#include "Console/Commands.h"
#include "Console/DrillOptions.h"
#include "Console/GuideOptions.h"
#include "Console/LogOptions.h"
#include "Console/Output.h"
#include "Files/GuideFile.h"
#include "Score/Score.h"
#include "Tempo/TempoMap.h"

#include <deque>
#include <memory>

namespace valveladder::console {

namespace {

constexpr int maxTakes = 200;

struct Options {
    DrillOptions drill;
    TempoOption tempo;
    GuideOptions guide;
    OutputOption output;
    int takes = 5;
    double step = 1.0;
    double ceiling = maxBpm;
    bool tempoOnly = false;
};

/// Tempos of the takes, each a step above the one before, up to the ceiling.
Result<std::vector<double>> tempos(const Options& options, double first) {
    if (options.takes < 1 || options.takes > maxTakes)
        return Problem{fmt::format("a session cannot have {} takes", options.takes), "--takes",
                       fmt::format("Choose from 1 to {}", maxTakes)};
    if (!(options.step >= -20.0 && options.step <= 20.0))
        return Problem{fmt::format("a step of {:g} bpm is outside -20 to 20", options.step), "--step",
                       "One to three a take is usual"};
    std::vector<double> list;
    for (int i = 0; i < options.takes; ++i)
        list.push_back(std::min(first + i * options.step, options.ceiling));
    return list;
}

Result<std::deque<Score>> scoresOf(const DrillOptions::Chosen& chosen, const std::vector<double>& bpms) {
    std::deque<Score> scores;
    for (const double bpm : bpms) {
        auto score = buildScore(chosen.drill, chosen.instrument, bpm);
        if (!score)
            return Problem{
                fmt::format("take {}, at {:g} bpm: {}", scores.size() + 1, bpm, score.problem().what),
                score.problem().where, score.problem().remedy};
        scores.push_back(std::move(score.value()));
    }
    return scores;
}

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
            tool.print("{:>4}  {:>5g}  {:>11g}  {:>5}:{:02}\n", i + 1, scores[i].bpm, quarter,
                       static_cast<int>(seconds) / 60, static_cast<int>(seconds) % 60);
        quarter += static_cast<double>(scores[i].length) / ticksPerQuarter;
        seconds += static_cast<double>(scores[i].length) / ticksPerQuarter * 60.0 / scores[i].bpm;
    }
    if (tool.json)
        tool.printJson({{"file", options.output.path}, {"takes", std::move(takes)}, {"seconds", seconds}});
}

Result<Done> session(Tool& tool, const Options& options) {
    auto settings = options.guide.settings();
    if (!settings)
        return settings.problem();
    auto chosen = options.drill.choose();
    if (!chosen)
        return chosen.problem();
    const auto& [instrument, drill] = chosen.value();
    auto first = options.tempo.choose(tool, instrument.id, drill.name);
    if (!first)
        return first.problem();
    auto bpms = tempos(options, first.value());
    if (!bpms)
        return bpms.problem();
    auto scores = scoresOf(chosen.value(), bpms.value());
    if (!scores)
        return scores.problem();
    std::vector<SessionTake> takes;
    for (const Score& score : scores.value())
        takes.push_back({&score, score.bpm});
    const SmfFile file = sessionFile(takes, settings.value(), drill.name, options.tempoOnly);
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
    sub->add_option("--takes", options->takes, "How many takes (5)")->option_text("N");
    sub->add_option("--step", options->step, "From take to take (1)")->option_text("BPM");
    sub->add_option("--ceiling", options->ceiling, "Never faster than this")->option_text("BPM");
    sub->add_flag("--tempo-only", options->tempoOnly, "The tempo map with its markers, without notes");
    options->tempo.add(*sub);
    options->guide.add(*sub);
    options->drill.add(*sub);
    sub->footer("Examples:\n"
                "  valve-ladder session -o session.mid --bpm 60 --takes 5 --step 2\n"
                "  valve-ladder session -o tempo.mid --bpm 60 --takes 8 --tempo-only\n"
                "A take recorded over it: valve-ladder assess rec.mid --start QUARTER, from the\n"
                "table that this command prints.");
    sub->callback([&tool, options] { tool.job = [&tool, options] { return session(tool, *options); }; });
}

} // namespace valveladder::console
