#include "Base/Sentence.h"
#include "Console/Commands.h"
#include "Console/FilterOptions.h"
#include "Console/LogOptions.h"
#include "Console/NamedChoices.h"
#include "Console/Options.h"
#include "Console/TakeText.h"
#include "Console/TimeText.h"
#include "Records/Json.h"
#include "Words/ReportWords.h"
#include "Words/TempoWords.h"

#include <algorithm>
#include <limits>
#include <memory>

namespace valveladder::console {

namespace {

struct Options {
    LogOptions log;
    FilterOptions filter;
    std::string id;
    std::string note;
    bool allMistakes = false;
    bool asHeard = false;
    bool right = false;
    std::optional<int> scoreNote; ///< as people count, from 1
    std::optional<ReportKind> report;
};

Json asJson(const TakeSummary& take) {
    const auto orNull = [](const std::optional<double>& value) { return value ? Json(*value) : Json(); };
    return {{"number", take.number},
            {"id", take.header.id},
            {"player", take.header.player},
            {"instrument", take.header.instrumentId},
            {"drill", take.header.drillName},
            {"started", isoText(take.header.startedUtc)},
            {"timeZone", take.header.timeZone},
            {"plannedBpm", take.header.plannedBpm},
            {"playedBpm", take.playedBpm},
            {"result", verdict(take)},
            {"clean", take.clean},
            {"expected", take.expected},
            {"right", take.right},
            {"wrong", take.wrong},
            {"missed", take.missed},
            {"extra", take.extra},
            {"breaths", take.breaths},
            {"worstIoiSpreadPercent", orNull(take.worstIoiSpreadPercent)},
            {"invented", take.header.invented},
            {"playerNote", take.playerNote}};
}

std::string heading(const TakeSummary& take) {
    return fmt::format("{}, {}, {}{}", take.header.player, take.header.instrumentId, take.header.drillName,
                       inventedNote(take.header.invented));
}

void printLine(Tool& tool, const TakeSummary& take) {
    const std::string spread =
        take.worstIoiSpreadPercent ? fmt::format("{:.1f}", *take.worstIoiSpreadPercent) : "-";
    tool.print("  {:>4} {:<9} {:<16} {:>7} {:>7} {:>9} {:>7}  {}{}\n", take.number, shortId(take.header.id),
               localText(take.header.startedUtc, take.header.timeZone),
               words::tempoText(take.header.plannedBpm), words::tempoText(take.playedBpm),
               fmt::format("{}/{}", take.right, take.expected), spread, verdict(take),
               take.playerNote.empty() ? "" : " *");
}

void printList(Tool& tool, const std::vector<TakeSummary>& takes) {
    std::string last;
    tool.print("  {:>4} {:<9} {:<16} {:>7} {:>7} {:>9} {:>7}  {}\n", "no.", "take", "local time", "planned",
               "played", "right", "worst %", "result");
    for (const TakeSummary& take : takes) {
        if (heading(take) != last)
            tool.print("{}\n", heading(take));
        last = heading(take);
        printLine(tool, take);
    }
    tool.print("{}\n", counted(static_cast<long>(takes.size()), "take"));
    if (takes.empty())
        tool.print("'valve-ladder players --brief' lists who has takes in this log\n");
    else
        tool.print("'valve-ladder take show NO' shows one, 'compare NO NO' two; * has a note\n");
}

Result<Done> list(Tool& tool, const Options& options) {
    auto log = options.filter.openToRead(options.log);
    if (!log)
        return log.problem();
    auto takes = log.value().store->takes(log.value().filter);
    if (!takes)
        return takes.problem();
    if (tool.json) {
        Json all = Json::array();
        for (const TakeSummary& take : takes.value())
            all.push_back(asJson(take));
        tool.printJson(all);
    } else {
        printList(tool, takes.value());
    }
    return Done{};
}

Result<Done> show(Tool& tool, const Options& options) {
    auto store = options.log.openToRead();
    if (!store)
        return store.problem();
    auto heard = store.value()->take(options.id, {.asHeard = true});
    if (!heard)
        return heard.problem();
    auto take = options.asHeard ? heard : store.value()->take(options.id);
    if (!take)
        return take.problem();
    if (tool.json) {
        tool.printJson(Json::parse(toJson(take.value())));
        return Done{};
    }
    const auto called = takeName(*store.value(), take.value().header);
    if (!called)
        return called.problem();
    constexpr int mistakesShown = 20;
    if (options.asHeard)
        take.value().corrections.clear();
    printTake(tool, called.value(), take.value(), heard.value().performance, scoreOf(take.value()),
              options.allMistakes ? std::numeric_limits<int>::max() : mistakesShown);
    if (!reportsOf(take.value().performance).empty())
        tool.print("One of them was right? 'valve-ladder take correct NO NOTE --right' says so\n");
    return Done{};
}

/// The reports of a take that are meant: of one note or of all, of one kind or of all.
Result<std::vector<NoteReport>> reportsMeant(const Options& options, const Performance& heard) {
    std::vector<NoteReport> reports = reportsOf(heard);
    std::erase_if(reports, [&](const NoteReport& report) {
        return (options.scoreNote && report.note != *options.scoreNote - 1) ||
               (options.report && report.kind != *options.report);
    });
    if (!reports.empty())
        return reports;
    const std::string of =
        options.scoreNote ? fmt::format("note {} of this take", *options.scoreNote) : "this take";
    return Problem{options.report ? fmt::format("nothing of the kind {} was reported of {}",
                                                enumName(*options.report), of)
                                  : "nothing was reported of " + of,
                   options.id,
                   "'valve-ladder take show --all' has the numbers of the notes and what was heard"};
}

Json asJson(const std::vector<NoteReport>& reports) {
    Json all = Json::array();
    for (const NoteReport& report : reports)
        all.push_back({{"scoreNote", report.note}, {"report", enumName(report.kind)}});
    return all;
}

Result<Done> correct(Tool& tool, const Options& options) {
    if (options.right == options.asHeard)
        return Problem{"it must be said how the notes were", "take correct",
                       "Give --right, or --as-heard to take that back"};
    auto store = options.log.openToChange();
    if (!store)
        return store.problem();
    const auto take = store.value()->take(options.id, {.asHeard = true});
    if (!take)
        return take.problem();
    const std::string& id = take.value().header.id;
    const auto called = takeName(*store.value(), take.value().header);
    if (!called)
        return called.problem();
    const auto reports = reportsMeant(options, take.value().performance);
    if (!reports)
        return reports.problem();
    auto done = store.value()->correct(id, reports.value(), options.right);
    if (!done)
        return done;
    if (tool.json) {
        tool.printJson({{"id", id}, {"right", options.right}, {"reports", asJson(reports.value())}});
        return done;
    }
    tool.print("{}:\n", sentence(called.value()));
    for (const NoteReport& report : reports.value())
        tool.print("  note {}: {}\n", report.note + 1,
                   options.right ? fmt::format("right, and not {}", inWords(report.kind))
                                 : fmt::format("{}, as heard", inWords(report.kind)));
    return done;
}

Result<Done> note(Tool& tool, const Options& options) {
    auto store = options.log.openToChange();
    if (!store)
        return store.problem();
    auto take = store.value()->take(options.id);
    if (!take)
        return take.problem();
    const std::string& id = take.value().header.id;
    const auto called = takeName(*store.value(), take.value().header);
    if (!called)
        return called.problem();
    auto done = store.value()->setPlayerNote(id, options.note);
    if (!done)
        return done;
    if (tool.json)
        tool.printJson({{"id", id}, {"playerNote", options.note}});
    else
        tool.print("{}: {}\n", sentence(called.value()), options.note.empty() ? "note taken off" : "noted");
    return done;
}

void setJob(CLI::App& sub, Tool& tool, const std::shared_ptr<Options>& options,
            Result<Done> (*job)(Tool&, const Options&)) {
    options->log.addFile(sub);
    sub.callback([&tool, options, job] { tool.job = [&tool, options, job] { return job(tool, *options); }; });
}

void addCorrect(CLI::App& take, Tool& tool) {
    auto options = std::make_shared<Options>();
    CLI::App* sub = take.add_subcommand(
        "correct",
        "Say that notes were right that were heard otherwise\n\nThe player's word counts from then on: in "
        "lists, findings, comparisons and the plan, and a take that passes so has passed. What was heard is "
        "kept, and 'evaluate --corrections' counts how often it was not so.");
    sub->add_option("take", options->id, "Its number or id, or the beginning of the id")->required();
    sub->add_option("note", options->scoreNote,
                    "The number of the note, as 'take show' has it (all of the take)");
    CLI::Option* right = sub->add_flag("--right", options->right, "The note was right");
    sub->add_flag("--as-heard", options->asHeard, "It was as it was heard: takes --right back")
        ->excludes(right);
    addChoice(*sub, "--report", options->report, named<ReportKind>(), "Only what was reported so");
    setJob(*sub, tool, options, correct);
    sub->footer("Examples:\n"
                "  valve-ladder take correct 12 17 --right\n"
                "  valve-ladder take correct 12 17 --right --report breath\n"
                "  valve-ladder take correct 12 17 --as-heard");
}

} // namespace

void addTake(CLI::App& app, Tool& tool) {
    CLI::App* take = app.add_subcommand("take", "List, show, correct and annotate the takes of the log");
    take->require_subcommand(1);
    take->footer("Example:\n  valve-ladder take list --player Ann --newest 10");

    auto listing = std::make_shared<Options>();
    CLI::App* list_ = take->add_subcommand("list", "A line for each take, oldest first");
    listing->filter.add(*list_);
    setJob(*list_, tool, listing, list);
    list_->footer("'worst %' is the largest spread of inter-onset intervals among even segments.\n"
                  "Examples:\n"
                  "  valve-ladder take list --player Ann --newest 10\n"
                  "  valve-ladder take list --from 2026-03-28 --json");

    auto showing = std::make_shared<Options>();
    CLI::App* show_ = take->add_subcommand("show", "One take, segment by segment");
    show_->add_option("take", showing->id, "Its number or id, or the beginning of the id")->required();
    show_->add_flag("--all", showing->allMistakes, "Every note that was not right, however many");
    show_->add_flag("--as-heard", showing->asHeard, "Without what the player said was right");
    setJob(*show_, tool, showing, show);
    show_->footer("Example:\n  valve-ladder take show 12");

    addCorrect(*take, tool);

    auto noting = std::make_shared<Options>();
    CLI::App* note_ = take->add_subcommand("note", "Set the player's note of a take");
    note_->add_option("take", noting->id, "Its number or id, or the beginning of the id")->required();
    tool.mayBeEmpty.push_back(
        note_->add_option("text", noting->note, "The note; '' takes it off")->required());
    setJob(*note_, tool, noting, note);
    note_->footer("Example:\n  valve-ladder take note 12 'third finger lazy'");
}

} // namespace valveladder::console
