#include "Console/ReviewOptions.h"

#include "Base/Path.h"
#include "Base/SystemClock.h"
#include "Console/TimeText.h"

#include <algorithm>

namespace valveladder::console {

void ReviewOptions::add(CLI::App& app) {
    log.addPlayer(app);
    log.addFile(app);
    app.add_option(
           "-i,--instrument", instrumentId,
           "On this instrument alone (an id as the log has it; all of the player's where none is given)")
        ->option_text("ID");
    app.add_option("--from", from, "Takes not before this local time, e.g. 2026-03-28")->option_text("TIME");
    app.add_option("--to", to, "Takes before this local time")->option_text("TIME");
    app.add_flag("--invented", invented, "The invented takes in place of the real ones");
    app.add_flag("--no-care", noCare, "Without reminders of hand position and rests");
}

std::vector<LogPlayer> eachRealBeforeInvented(const std::vector<LogPlayer>& all, bool invented) {
    std::vector<LogPlayer> chosen;
    for (const LogPlayer& one : all) {
        const bool hasReal = std::any_of(all.begin(), all.end(), [&](const LogPlayer& other) {
            return other.newest.player == one.newest.player &&
                   other.newest.instrumentId == one.newest.instrumentId && !other.newest.invented;
        });
        if (invented ? one.newest.invented : !one.newest.invented || !hasReal)
            chosen.push_back(one);
    }
    return chosen;
}

Result<std::vector<LogPlayer>> ReviewOptions::whom(const LogStore& store) const {
    auto player = log.whose(&store);
    if (!player)
        return player.problem();
    TakeFilter filter;
    filter.player = player.value();
    if (!instrumentId.empty())
        filter.instrumentId = instrumentId;
    auto all = playersIn(store, filter);
    if (!all)
        return all.problem();
    std::vector<LogPlayer> chosen = eachRealBeforeInvented(all.value(), invented);
    if (chosen.empty())
        return Problem{fmt::format("the log holds no {}take of {}{}{}", invented ? "invented " : "",
                                   player.value().empty() ? "anybody" : player.value(),
                                   instrumentId.empty() ? "" : " on ", instrumentId),
                       pathText(store.path()), "'valve-ladder players' lists who played what"};
    return chosen;
}

Result<ReviewRequest> ReviewOptions::requestFor(const LogPlayer& player) const {
    ReviewRequest request;
    request.player = player.newest.player;
    request.instrumentId = player.newest.instrumentId;
    request.invented = player.newest.invented;
    request.care = care;
    if (noCare)
        request.care.handCheck = request.care.restReminder = request.care.firmValves = request.care.hearing =
            false;
    request.now = systemUtcMs();
    if (auto read = readSpan(from, to, request.fromUtc, request.toUtc); !read)
        return read.problem();
    return request;
}

} // namespace valveladder::console
