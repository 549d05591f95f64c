#include "Console/AssessMidi.h"
#include "Console/Commands.h"
#include "Console/TakeText.h"
#include "Files/Json.h"

#include <memory>

namespace valveladder::console {

namespace {

constexpr int mistakesShown = 20;

Result<Done> assess(Tool& tool, const AssessOptions& options) {
    auto assessed = assessMidi(options);
    if (!assessed)
        return assessed.problem();
    const TakeRecord& take = assessed.value().take;
    if (options.keep)
        if (auto kept = keep(options, take); !kept)
            return kept;
    if (tool.json) {
        tool.printJson({{"kept", options.keep}, {"take", Json::parse(toJson(take))}});
        return Done{};
    }
    printTake(tool, take, assessed.value().from, mistakesShown);
    tool.print("\n{}\n", options.keep ? "Kept in the log." : "Not kept; --keep puts it into the log.");
    return Done{};
}

} // namespace

void addAssess(CLI::App& app, Tool& tool) {
    auto options = std::make_shared<AssessOptions>();
    CLI::App* sub = app.add_subcommand(
        "assess",
        "Hear a recorded MIDI take against a drill\n\nReads a Standard MIDI File, matches its notes to the "
        "drill, and says what was right, wrong, missed and extra, how even it was and how long the "
        "long notes were. Controllers 20 to 23 are heard as valve sensors.");
    sub->add_option("file", options->file, "The recorded take, a MIDI file")->required();
    sub->add_option("--bpm", options->bpm,
                    "Tempo of the guide, where the file's own tempo is not that of the guide")
        ->option_text("BPM");
    sub->add_option("--start", options->startQuarter,
                    "Where in the file, in quarters, the drill's count-in begins (0)")
        ->option_text("QUARTER");
    sub->add_option("--channel", options->channel, "MIDI channel of the player (any but 10)")
        ->option_text("N");
    sub->add_option("--round-trip", options->roundTripMs, "Latency to take off every time heard")
        ->option_text("MS");
    sub->add_flag("--keep", options->keep, "Keep the take in the log, where plans count it");
    sub->add_option("--played-at", options->playedAt, "When it was played (the file's own time)")
        ->option_text("TIME");
    sub->add_option("--note", options->note, "A note of the player's to keep with it")->option_text("TEXT");
    sub->add_flag("--invented", options->invented, "The take is made up: keep it apart from real ones");
    options->log.addPlayer(*sub);
    options->log.addFile(*sub);
    options->drill.add(*sub);
    sub->footer("Examples:\n"
                "  valve-ladder assess take.mid -i cornet-b-flat\n"
                "  valve-ladder assess take.mid -d daily.json --bpm 66 --keep --player Ann\n"
                "  valve-ladder assess rec.mid --start 96 --channel 2 --json");
    sub->callback([&tool, options] { tool.job = [&tool, options] { return assess(tool, *options); }; });
}

} // namespace valveladder::console
