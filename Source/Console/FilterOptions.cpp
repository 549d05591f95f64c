#include "Console/FilterOptions.h"

#include "Console/InstrumentOption.h"
#include "Console/Options.h"
#include "Console/TimeText.h"

namespace valveladder::console {

namespace {

Result<TakeFilter> filterOf(const FilterOptions& options) {
    if (options.newest < 0)
        return Problem{"there cannot be fewer than no takes", "--newest", "Give 1 or more"};
    TakeFilter filter;
    filter.player = options.player;
    filter.instrumentId = options.instrumentId;
    filter.drillName = options.drillName;
    filter.newest = options.newest;
    filter.withInvented = !options.noInvented;
    if (auto read = readSpan(options.from, options.to, filter.fromUtc, filter.toUtc); !read)
        return read.problem();
    return filter;
}

} // namespace

void FilterOptions::add(CLI::App& app) {
    const char* group = "Which takes (all where nothing is given)";
    app.add_option("-p,--player", player, "Of this player")->option_text("NAME")->group(group);
    CLI::Option* instrument = app.add_option("-i,--instrument", instrumentId, "On this instrument");
    setChoices(*instrument->option_text("ID")->group(group), instrumentIds());
    app.add_option("--name", drillName, "Of the drill of this name")->option_text("TEXT")->group(group);
    app.add_option("--from", from, "Not before this local time, e.g. 2026-03-28")
        ->option_text("TIME")
        ->group(group);
    app.add_option("--to", to, "Before this local time")->option_text("TIME")->group(group);
    app.add_option("--newest", newest, "Only the newest N of them")->option_text("N")->group(group);
    app.add_flag("--no-invented", noInvented, "Without invented ones")->group(group);
}

Result<FilteredLog> FilterOptions::openToRead(const LogOptions& log) const {
    auto wanted = filterOf(*this);
    if (!wanted)
        return wanted.problem();
    auto store = log.openToRead();
    if (!store)
        return store.problem();
    return FilteredLog{std::move(wanted.value()), std::move(store.value())};
}

} // namespace valveladder::console
