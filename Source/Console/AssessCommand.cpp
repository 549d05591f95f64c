#include "Base/Path.h"
#include "Console/AssessMany.h"
#include "Console/Commands.h"
#include "Console/Options.h"
#include "Console/Output.h"
#include "Console/TakeText.h"
#include "Console/TimeText.h"
#include "Console/Workers.h"
#include "Records/Json.h"
#include "Reports/TakePicture.h"
#include "Words/TempoWords.h"

#include <memory>

namespace valveladder::console {

namespace {

constexpr int mistakesShown = 20;

struct Options {
    AssessOptions take;
    OutputOption picture;
    int workers = usualWorkers();
};

std::string pictureOf(const Assessed& assessed) {
    const TakeRecord& take = assessed.take;
    const std::string when = localText(take.header.startedUtc, take.header.timeZone);
    PictureText text;
    text.title = fmt::format("{}, {}{}", take.header.drillName, when, inventedNote(take.header.invented));
    text.subtitle =
        fmt::format("{}{}, played at {} bpm: {}", take.header.player.empty() ? "" : take.header.player + ", ",
                    assessed.from->instrument.name, words::tempoText(take.playedBpm), verdict(take));
    return takePicture(take.performance, assessed.from->score, assessed.from->instrument, text);
}

Result<Done> one(Tool& tool, const Options& options) {
    auto assessed = assessFiles(tool, {options.take.file}, options.take, 1);
    FileAssessed& only = assessed.front();
    if (only.problem)
        return *only.problem;
    const TakeRecord& take = only.assessed->take;
    std::string called = "take of " + pathText(pathOf(options.take.file).filename());
    if (options.take.keep) {
        auto kept = keep(options.take, *only.assessed);
        if (!kept)
            return kept.problem();
        called = std::move(kept.value());
    }
    if (!options.picture.path.empty()) {
        if (auto drawn = deliver(tool, options.picture, pictureOf(*only.assessed)); !drawn)
            return drawn;
        if (options.picture.toStandardOutput())
            return Done{};
    }
    if (tool.json) {
        tool.printJson({{"kept", options.take.keep}, {"take", Json::parse(toJson(take))}});
        return Done{};
    }
    printTake(tool, called, take, take.performance, only.assessed->from, mistakesShown);
    tool.print("\n{}\n", options.take.keep ? "Kept in the log." : "Not kept; --keep puts it into the log.");
    return Done{};
}

/// Pictures of a folder's takes go into a folder, each under its take's name.
Result<Done> drawAll(const Options& options, const std::vector<FileAssessed>& files) {
    std::error_code error;
    std::filesystem::create_directories(pathOf(options.picture.path), error);
    if (error)
        return Problem{"the folder for pictures cannot be made (" + error.message() + ")",
                       options.picture.path, "Name another with --picture"};
    for (const FileAssessed& file : files) {
        if (!file.assessed)
            continue;
        const auto name = pathText(pathOf(file.file).filename()) + ".svg";
        OutputOption to{pathText(pathOf(options.picture.path) / pathOf(name))};
        Tool unused;
        if (auto drawn = deliver(unused, to, pictureOf(*file.assessed)); !drawn)
            return drawn;
    }
    return Done{};
}

Result<Done> many(Tool& tool, const Options& options) {
    if (!options.take.playedAt.empty())
        return Problem{"the takes of a folder were not played at one time", "--played-at",
                       "Leave it out: each file's own time counts"};
    if (options.picture.toStandardOutput())
        return Problem{"several pictures do not go into one file", "--picture", "Name a folder"};
    auto names = takeFiles(options.take.file);
    if (!names)
        return names.problem();
    auto files = assessFiles(tool, names.value(), options.take, options.workers);
    if (std::ranges::none_of(files, [](const FileAssessed& f) { return f.assessed.has_value(); }))
        return Problem{fmt::format("none of {} files could be heard; the first: {}", files.size(),
                                   files.front().problem->text()),
                       options.take.file, "Check the instrument and the drill"};
    if (options.take.keep)
        keepAll(options.take, files);
    if (!options.picture.path.empty())
        if (auto drawn = drawAll(options, files); !drawn)
            return drawn;
    printFiles(tool, files);
    return Done{};
}

Result<Done> assess(Tool& tool, const Options& options) {
    if (options.workers < 1)
        return Problem{"there must be one worker at least", "--jobs", "Give 1 or more"};
    std::error_code error;
    return std::filesystem::is_directory(pathOf(options.take.file), error) ? many(tool, options)
                                                                           : one(tool, options);
}

void addOptions(CLI::App& sub, Options& options) {
    AssessOptions& take = options.take;
    sub.add_option("file", take.file,
                   "The recorded take: a MIDI file, a sound (WAV, AIFF, FLAC), or a folder of takes")
        ->required();
    addNumber(sub, "--bpm", take.bpm,
              "Tempo of the guide, where the file's own tempo is not that of the guide; in a sound it is "
              "found when not given")
        ->option_text("BPM");
    addNumber(sub, "--start", take.startQuarter,
              "Where in a MIDI file, in quarters, the drill's count-in begins (0)")
        ->option_text("QUARTER");
    addNumber(sub, "--start-seconds", take.startSeconds,
              "Where in a sound the drill's count-in begins; found when not given")
        ->option_text("SECONDS");
    sub.add_option("--channel", take.channel,
                   "MIDI channel of the player (any but 10), or channel of a sound (all mixed)")
        ->option_text("N");
    addNumber(sub, "--round-trip", take.roundTripMs, "Latency to take off every time heard")
        ->option_text("MS");
    sub.add_option("--picture", options.picture.path,
                   "Draw deviations and changeovers into this SVG file ('-' for standard output); with a "
                   "folder of takes, a folder")
        ->option_text("FILE");
    sub.add_option("-j,--jobs", options.workers, "Takes of a folder heard at a time (one for each core)")
        ->option_text("N");
    sub.add_flag("--keep", take.keep, "Keep the take in the log, where plans count it");
    sub.add_option("--played-at", take.playedAt, "When it was played (the file's own time)")
        ->option_text("TIME");
    sub.add_flag(
        "--as-played", take.asPlayed,
        "The tempo played is the one that was planned: what the log plans now is not compared, so that "
        "an archive's takes are the same in whatever order they are heard");
    sub.add_option("--note", take.note, "A note of the player's to keep with it")->option_text("TEXT");
    sub.add_flag("--invented", take.invented, "The take is made up: keep it apart from real ones");
    take.log.addPlayer(sub);
    take.log.addFile(sub);
    take.drill.add(sub);
}

} // namespace

void addAssess(CLI::App& app, Tool& tool) {
    auto options = std::make_shared<Options>();
    CLI::App* sub = app.add_subcommand(
        "assess",
        "Hear a recorded take, MIDI or sound, against a drill\n\nMatches what was played to the drill, and "
        "says "
        "what was right, wrong, missed and extra, how even it was, how long the long notes were, and, from "
        "slurred sound, how long each change of valves took. In MIDI, controllers 20 to 23 are heard as "
        "valve "
        "sensors. A folder's takes are heard several at a time.");
    addOptions(*sub, *options);
    sub->footer("Examples:\n"
                "  valve-ladder assess take.mid -i cornet-b-flat\n"
                "  valve-ladder assess take.mid -d daily.json --bpm 66 --keep --player Ann\n"
                "  valve-ladder assess rec.mid --start 96 --channel 2 --json\n"
                "  valve-ladder assess take.wav --bpm 66 --picture take.svg\n"
                "  valve-ladder assess recordings -i tuba-b-flat -j 4");
    sub->callback([&tool, options] { tool.job = [&tool, options] { return assess(tool, *options); }; });
}

} // namespace valveladder::console
