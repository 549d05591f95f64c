#include "Base/Path.h"
#include "Base/Sentence.h"
#include "Console/Commands.h"
#include "Console/FilterOptions.h"
#include "Console/LogOptions.h"
#include "Console/Output.h"
#include "Log/Export.h"
#include "Log/Program.h"

#include <map>
#include <memory>

namespace valveladder::console {

namespace {

struct Options {
    LogOptions log;
    FilterOptions filter;
    OutputOption output{"-"};
    std::string csvFolder;
    bool asHeard = false;
    std::string other;
};

Result<Done> info(Tool& tool, const Options& options) {
    auto store = options.log.openToRead();
    if (!store)
        return store.problem();
    auto takes = store.value()->takes({});
    if (!takes)
        return takes.problem();
    std::map<std::string, int> players;
    for (const TakeSummary& take : takes.value())
        ++players[take.header.player];
    const auto writer = lastWriterOf(store.value()->path());
    if (!writer)
        return writer.problem();
    const auto& [program, schema] = writer.value();
    const std::string wroteLast = program.empty() ? "before 0.2" : program;
    if (tool.json) {
        tool.printJson({{"log", pathText(store.value()->path())},
                        {"machine", store.value()->machine()},
                        {"schema", schema},
                        {"takes", takes.value().size()},
                        {"players", players},
                        {"program", wroteLast}});
        return Done{};
    }
    tool.print("{}\nmachine {}, schema {}, {}\n", pathText(store.value()->path()), store.value()->machine(),
               schema, counted(static_cast<long>(takes.value().size()), "take"));
    for (const auto& [player, count] : players)
        tool.print("  {}: {}\n", player, count);
    tool.print("written last by Valve Ladder {}\n", wroteLast);
    return Done{};
}

Result<Done> exportTakes(Tool& tool, const Options& options) {
    auto log = options.filter.openToRead(options.log);
    if (!log)
        return log.problem();
    const auto& [filter, store] = log.value();
    if (options.csvFolder.empty()) {
        auto json = exportJson(*store, filter, options.asHeard);
        return json ? deliver(tool, options.output, json.value() + "\n") : json.problem();
    }
    auto done = exportCsv(*store, filter, pathOf(options.csvFolder), options.asHeard);
    if (!done)
        return done;
    if (tool.json)
        tool.printJson({{"folder", options.csvFolder}});
    else
        tool.print("{}: takes.csv, notes.csv, changes.csv, segments.csv, corrections.csv\n",
                   options.csvFolder);
    return done;
}

Result<Done> merge(Tool& tool, const Options& options) {
    std::error_code error;
    if (!std::filesystem::exists(pathOf(options.other), error))
        return Problem{"there is no such log", options.other, "Check the path of the log to merge from"};
    if (!std::filesystem::is_regular_file(pathOf(options.other), error))
        return Problem{"this is not a file", options.other, "Name the other log's file"};
    if (std::filesystem::equivalent(pathOf(options.other), options.log.path(), error))
        return Problem{"a log cannot be merged into itself", options.other, "Name another machine's log"};
    auto store = options.log.openOrMake();
    if (!store)
        return store.problem();
    auto count = store.value()->merge(pathOf(options.other));
    if (!count)
        return count.problem();
    const MergeCount& merged = count.value();
    if (tool.json)
        tool.printJson({{"added", merged.added},
                        {"known", merged.known},
                        {"replaced", merged.replaced},
                        {"notes", merged.notes},
                        {"rules", merged.rules},
                        {"corrections", merged.corrections}});
    else
        tool.print("Takes: {} added, {} finished, {} here already\n"
                   "Newer notes: {}, newer rules: {}, newer corrections: {}\n",
                   merged.added, merged.replaced, merged.known, merged.notes, merged.rules,
                   merged.corrections);
    return Done{};
}

Result<Done> check(Tool& tool, const Options& options) {
    auto store = options.log.openToRead();
    if (!store)
        return store.problem();
    auto sound = store.value()->check();
    if (!sound)
        return sound;
    if (tool.json)
        tool.printJson({{"log", pathText(store.value()->path())}, {"sound", true}});
    else
        tool.print("{}: sound\n", pathText(store.value()->path()));
    return sound;
}

Result<Done> recover(Tool& tool, const Options& options) {
    auto store = options.log.openToChange();
    if (!store)
        return store.problem();
    auto recovered = store.value()->recoverOpenTakes();
    if (!recovered)
        return recovered.problem();
    if (tool.json)
        tool.printJson({{"recovered", recovered.value()}});
    else
        tool.print("{} left open by a crash {} kept as cut short\n", counted(recovered.value(), "take"),
                   recovered.value() == 1 ? "is" : "are");
    return Done{};
}

void setJob(CLI::App& sub, Tool& tool, const std::shared_ptr<Options>& options,
            Result<Done> (*job)(Tool&, const Options&)) {
    options->log.addFile(sub);
    sub.callback([&tool, options, job] { tool.job = [&tool, options, job] { return job(tool, *options); }; });
}

void addExport(CLI::App& log, Tool& tool) {
    auto options = std::make_shared<Options>();
    CLI::App* sub = log.add_subcommand("export", "Takes with all results, as JSON or CSV");
    CLI::Option* toFile = options->output.add(*sub, "JSON into this file");
    sub->add_option("--csv", options->csvFolder, "Five CSV files (RFC 4180) into this folder instead")
        ->option_text("FOLDER")
        ->excludes(toFile);
    sub->add_flag("--as-heard", options->asHeard, "Without taking the player's word for what was right");
    options->filter.add(*sub);
    setJob(*sub, tool, options, exportTakes);
    sub->footer("Examples:\n"
                "  valve-ladder log export -o takes.json\n"
                "  valve-ladder log export --csv takes --player Ann --from 2026-01-01");
}

} // namespace

void addLog(CLI::App& app, Tool& tool) {
    CLI::App* log = app.add_subcommand("log", "Export, merge, check and mend the log");
    log->require_subcommand(1);
    log->footer("Example:\n  valve-ladder log merge /media/stick/log.sqlite");

    auto asking = std::make_shared<Options>();
    setJob(*log->add_subcommand("info", "Where the log is, and whose takes it holds"), tool, asking, info);

    addExport(*log, tool);

    auto merging = std::make_shared<Options>();
    CLI::App* merge_ = log->add_subcommand("merge", "Add the takes of another log that are not here");
    merge_->add_option("other", merging->other, "The other log's file; it is not changed")->required();
    setJob(*merge_, tool, merging, merge);
    merge_->footer("Merging twice changes nothing.\nExample:\n  valve-ladder log merge other.sqlite");

    auto checking = std::make_shared<Options>();
    setJob(*log->add_subcommand("check", "Read the whole log and say whether it is sound"), tool, checking,
           check);

    auto mending = std::make_shared<Options>();
    setJob(*log->add_subcommand("recover", "Keep what a crash left open as takes cut short"), tool, mending,
           recover);
}

} // namespace valveladder::console
