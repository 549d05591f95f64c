#include "Base/Units.h"
#include "Console/Commands.h"
#include "Console/Help.h"
#include "Console/LogOptions.h"
#include "Console/Options.h"
#include "Console/Output.h"
#include "Console/TakeText.h"
#include "Console/TimeText.h"
#include "Log/LoggedPlan.h"
#include "Reports/SideBySideReport.h"
#include "Review/Comparison.h"
#include "Review/LogEvidence.h"

#include <algorithm>
#include <memory>
#include <set>

namespace valveladder::console {

namespace {

struct Options {
    LogOptions log;
    std::vector<std::string> sides;
    std::string instrumentId, drillName;
    std::optional<NoteMeasure> measure;
    OutputOption csv, svg;
    bool invented = false;
};

bool isDay(const std::string& text) {
    constexpr std::string_view shape = "dddd-dd-dd";
    return text.size() == shape.size() &&
           std::equal(text.begin(), text.end(), shape.begin(),
                      [](char c, char wanted) { return wanted == 'd' ? c >= '0' && c <= '9' : c == wanted; });
}

/// Which takes days are made of: the player's real ones, or invented ones where they are asked for or where
/// there are no others on any day. So no day of real takes is laid beside one of invented ones.
Result<TakeFilter> filterOf(const Options& options, const LogStore& store) {
    auto player = options.log.whose(&store);
    if (!player)
        return player.problem();
    TakeFilter filter;
    filter.player = player.value();
    if (!options.instrumentId.empty())
        filter.instrumentId = options.instrumentId;
    if (!options.drillName.empty())
        filter.drillName = options.drillName;
    const auto read = [&](bool invented) {
        filter.withInvented = invented;
        filter.withReal = !invented;
        TakeFilter any = filter;
        any.newest = 1;
        return store.takes(any);
    };
    const auto noTake = [](const std::vector<TakeSummary>& takes) { return takes.empty(); };
    const auto takes = options.invented ? read(true) : realBeforeInvented(read, noTake);
    if (!takes)
        return takes.problem();
    return filter;
}

Result<ComparedSide> dayOf(const Options& options, const LogStore& store, const std::string& text) {
    auto midnight = parseTime(text, "Etc/UTC");
    if (!midnight)
        return midnight.problem();
    const auto filter = filterOf(options, store);
    if (!filter)
        return filter.problem();
    auto takes = takesOfDay(store, filter.value(), midnight.value() / static_cast<UtcMs>(msPerDay));
    if (!takes)
        return takes.problem();
    std::set<std::string> drills, instruments;
    ComparedSide side{text + inventedNote(filter.value().withInvented), {}};
    for (const TakeSummary& take : takes.value()) {
        drills.insert(take.header.drillName);
        instruments.insert(take.header.instrumentId);
        side.takeIds.push_back(take.header.id);
    }
    if (side.takeIds.empty())
        return Problem{fmt::format("{} has no take of that day", *filter.value().player), text,
                       "'valve-ladder take list' shows which there are; --invented asks for the invented "
                       "ones where there are real ones too"};
    if (instruments.size() > 1)
        return Problem{"takes of that day are on several instruments", text, "Say which with -i"};
    if (drills.size() > 1)
        return Problem{"takes of that day are of several drills", text, "Say which with --name"};
    return side;
}

/// "take 12, 2026-03-28 17:00"
Result<ComparedSide> takeOf(const LogStore& store, const std::string& id) {
    auto take = store.take(id);
    if (!take)
        return take.problem();
    const TakeHeader& header = take.value().header;
    const auto called = takeName(store, header);
    if (!called)
        return called.problem();
    return ComparedSide{fmt::format("{}, {}{}", called.value(), localText(header.startedUtc, header.timeZone),
                                    inventedNote(header.invented)),
                        {header.id}};
}

Result<Comparison> comparisonOf(const Options& options, const LogStore& store) {
    std::vector<ComparedSide> sides;
    for (const std::string& text : options.sides) {
        auto side = isDay(text) ? dayOf(options, store, text) : takeOf(store, text);
        if (!side)
            return side.problem();
        sides.push_back(std::move(side.value()));
    }
    return compareTakes(store, sides);
}

Result<Done> compare(Tool& tool, const Options& options) {
    if (options.sides.size() < 2)
        return Problem{"one take or day alone cannot be compared", options.sides.front(),
                       "Name two or more: 'valve-ladder take list' shows their numbers and ids"};
    auto store = options.log.openToRead();
    if (!store)
        return store.problem();
    auto made = comparisonOf(options, *store.value());
    if (!made)
        return made.problem();
    const Comparison& comparison = made.value();
    if (!options.csv.path.empty())
        if (auto done = deliver(tool, options.csv,
                                sideCsv(comparison.notes, comparison.score, comparison.instrument));
            !done)
            return done;
    if (!options.svg.path.empty()) {
        const NoteMeasure measure = options.measure.value_or(NoteMeasure::deviation);
        if (auto done = deliver(tool, options.svg,
                                sideSvg(comparison.notes, comparison.score, comparison.instrument, measure));
            !done)
            return done;
    }
    if (options.csv.toStandardOutput() || options.svg.toStandardOutput())
        return Done{};
    if (tool.json)
        tool.printBytes(sideJson(comparison.notes, comparison.score, comparison.instrument) + "\n");
    else
        tool.printText(wrapped(sideText(comparison.notes, comparison.instrument.thumbValve), textWidth));
    return Done{};
}

} // namespace

void addCompare(CLI::App& app, Tool& tool) {
    auto options = std::make_shared<Options>();
    CLI::App* sub = app.add_subcommand(
        "compare",
        "Takes or days side by side, note by note\n\nTwo or more takes of one drill, or whole days, against "
        "the "
        "first: how far each note was from its time, how long its changeover took, how it was in tune, and "
        "which differences are more than chance. The drill must be the same; the tempo may differ.");
    sub->add_option("sides", options->sides,
                    "Takes, by their number or id in 'take list', and days such as 2026-03-28")
        ->required();
    options->log.addPlayer(*sub);
    options->log.addFile(*sub);
    sub->add_option("-i,--instrument", options->instrumentId, "For days: on this instrument")
        ->option_text("ID");
    sub->add_option("--name", options->drillName, "For days: takes of the drill of this name")
        ->option_text("TEXT");
    sub->add_flag("--invented", options->invented, "For days: the invented takes in place of the real ones");
    sub->add_option("--csv", options->csv.path, "Every note as CSV (RFC 4180), '-' for standard output")
        ->option_text("FILE");
    sub->add_option("--svg", options->svg.path, "A picture of one measure, '-' for standard output")
        ->option_text("FILE");
    addChoice(*sub, "--measure", options->measure,
              {{"deviation", NoteMeasure::deviation},
               {"changeover", NoteMeasure::changeover},
               {"intonation", NoteMeasure::intonation}},
              "What the picture shows (deviation)");
    sub->footer("Examples:\n"
                "  valve-ladder compare 11 12\n"
                "  valve-ladder compare 9 11 12\n"
                "  valve-ladder compare 2026-03-28 2026-04-04 --player Ann --csv notes.csv\n"
                "  valve-ladder compare 11 12 --svg c.svg --measure changeover");
    sub->callback([&tool, options] { tool.job = [&tool, options] { return compare(tool, *options); }; });
}

} // namespace valveladder::console
