#include "Console/Commands.h"
#include "Console/Output.h"
#include "Console/SteppedTakes.h"
#include "Files/BackingFile.h"
#include "Words/TempoWords.h"

#include <memory>
#include <utility>

namespace valveladder::console {

namespace {

struct Options {
    PlayedDrillOptions played;
    OutputOption output;
    SteppedTakes stepped{1, 1.0, std::nullopt};
    BackingSettings backing;
    bool noClick = false;
    bool noDrone = false;
    bool noCountIn = false;
};

Result<BackingSettings> settings(const Options& options) {
    BackingSettings asked = options.backing;
    asked.click = !options.noClick;
    asked.drone = !options.noDrone;
    asked.countIn = !options.noCountIn;
    if (!asked.click && !asked.drone && !asked.pad && !asked.bass && !asked.drums)
        return Problem{"nothing is left to play", "the backing",
                       "Leave the click or the drone in, or ask for --pad, --bass or --drums"};
    return asked;
}

void report(Tool& tool, const Options& options, const std::deque<Score>& scores,
            const BackingSettings& asked) {
    if (options.output.toStandardOutput())
        return;
    Json loops = Json::array();
    double start = 0.0;
    for (const Score& score : scores) {
        const Tick length = backingLength(score, asked);
        const auto bars = length / score.meter.barTicks();
        const double quarters = quartersOf(length);
        if (!tool.json)
            tool.print("{}: {} bpm, from quarter {:g}, {} bars, {:.1f} s\n", options.output.path,
                       words::tempoText(score.bpm), start, bars, secondsOf(length, score.bpm));
        loops.push_back({{"bpm", score.bpm},
                         {"startQuarter", start},
                         {"quarters", quarters},
                         {"bars", bars},
                         {"seconds", secondsOf(length, score.bpm)}});
        start += quarters;
    }
    if (tool.json)
        tool.printJson({{"file", options.output.path}, {"loops", std::move(loops)}});
}

Result<Done> backing(Tool& tool, const Options& options) {
    auto asked = settings(options);
    if (!asked)
        return asked.problem();
    auto chosen = options.played.choose(tool);
    if (!chosen)
        return chosen.problem();
    auto scores = options.stepped.scores(chosen.value());
    if (!scores)
        return scores.problem();
    const SmfFile file = backingFile(sessionTakes(scores.value()), asked.value(), chosen.value().drill.name);
    auto done = deliver(tool, options.output, writeSmf(file));
    if (done)
        report(tool, options, scores.value(), asked.value());
    return done;
}

void addChannel(CLI::App& app, const char* name, int& channel, const char* what) {
    app.add_option(name, channel, fmt::format("MIDI channel of the {} ({})", what, channel))
        ->option_text("1-16")
        ->check(CLI::Range(1, 16))
        ->group("Channels");
}

} // namespace

void addBacking(CLI::App& app, Tool& tool) {
    auto options = std::make_shared<Options>();
    CLI::App* sub = app.add_subcommand(
        "backing",
        "Write loops to play over as a MIDI file\n\nOne lap of the drill: click with count-in and a drone on "
        "the "
        "root of each rung; on request a chord pad, a bass and drums in the rhythm of each segment. Its "
        "length is whole bars, so that a host repeats it without a gap. With --takes, laps laid end to end, "
        "each a "
        "step faster.");
    options->output.add(*sub, "The MIDI file")->required();
    BackingSettings& parts = options->backing;
    sub->add_flag("--no-click", options->noClick, "Without click");
    sub->add_flag("--no-drone", options->noDrone, "Without drone");
    sub->add_flag("--pad", parts.pad, "Root, fifth and octave held");
    sub->add_flag("--bass", parts.bass, "The root in the segment's rhythm");
    sub->add_flag("--drums", parts.drums, "Beats, and the segment's rhythm on the hi-hat");
    sub->add_flag("--no-count-in", options->noCountIn, "The lap without its count-in");
    options->stepped.add(*sub);
    addChannel(*sub, "--click-channel", parts.clickChannel, "click");
    addChannel(*sub, "--drone-channel", parts.droneChannel, "drone");
    addChannel(*sub, "--pad-channel", parts.padChannel, "pad");
    addChannel(*sub, "--bass-channel", parts.bassChannel, "bass");
    addChannel(*sub, "--drum-channel", parts.drumChannel, "drums");
    options->played.tempo.add(*sub);
    options->played.drill.add(*sub);
    sub->footer("Examples:\n"
                "  valve-ladder backing -o loop.mid --bpm 60\n"
                "  valve-ladder backing -o band.mid --bpm 60 --bass --drums --no-drone\n"
                "  valve-ladder backing -o set.mid --bpm 60 --takes 5 --step 2 --pad");
    sub->callback([&tool, options] { tool.job = [&tool, options] { return backing(tool, *options); }; });
}

} // namespace valveladder::console
