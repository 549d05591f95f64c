#include "Base/Sentence.h"
#include "Console/Commands.h"
#include "Console/ReviewOptions.h"
#include "Console/ReviewText.h"
#include "Console/TakeText.h"
#include "Words/FindingWords.h"
#include "Words/PlanWords.h"

#include <memory>

namespace valveladder::console {

namespace {

struct Options {
    LogOptions log;
    bool noInvented = false;
    bool brief = false;
};

Json lineJson(const LogPlayer& player) {
    return {{"player", player.newest.player},
            {"instrument", player.newest.instrumentId},
            {"invented", player.newest.invented},
            {"takes", player.takes}};
}

void printBrief(Tool& tool, const LogPlayer& player) {
    tool.print("{}, {}{}: {}\n", player.newest.player, player.newest.instrumentId,
               inventedNote(player.newest.invented), counted(player.takes, "take"));
}

void printPlayer(Tool& tool, const Review& review) {
    std::vector<std::string> lines = review.words.claims;
    if (const std::string& nothing = review.words.nothing; !nothing.empty())
        lines.push_back(nothing);
    const std::vector<std::string> tooLittle = inWords(review.findings.weaknesses);
    lines.insert(lines.end(), tooLittle.begin(), tooLittle.end());
    if (const std::string plan = inWords(review.findings.plan); !plan.empty())
        lines.push_back(plan);
    printPoints(tool, heading(review), lines);
}

Result<Done> players(Tool& tool, const Options& options) {
    auto store = options.log.openToRead();
    if (!store)
        return store.problem();
    TakeFilter filter;
    filter.withInvented = !options.noInvented;
    auto all = playersIn(*store.value(), filter);
    if (!all)
        return all.problem();
    Json list = Json::array();
    ReviewOptions each;
    for (const LogPlayer& player : all.value()) {
        if (options.brief) {
            if (tool.json)
                list.push_back(lineJson(player));
            else
                printBrief(tool, player);
            continue;
        }
        auto request = each.requestFor(player);
        if (!request)
            return request.problem();
        auto review = reviewOf(*store.value(), request.value());
        if (!review)
            return review.problem();
        if (tool.json)
            list.push_back(asJson(review.value()));
        else
            printPlayer(tool, review.value());
    }
    if (tool.json)
        tool.printJson(list);
    else if (all.value().empty())
        tool.print("The log holds no finished take.\n");
    else if (!options.brief)
        tool.print("\nEach player is compared with nobody but himself or herself.\n");
    return Done{};
}

} // namespace

void addPlayers(CLI::App& app, Tool& tool) {
    auto options = std::make_shared<Options>();
    CLI::App* sub = app.add_subcommand(
        "players", "Everybody in the log, each apart: for a teacher\n\nWho played what, on how many days, "
                   "what stands out "
                   "and what held. Players, instruments and invented takes never mix. 'valve-ladder log "
                   "merge' brings the "
                   "logs of several machines together; merging one twice changes nothing.");
    options->log.addFile(*sub);
    sub->add_flag("--brief", options->brief, "Names and numbers of takes only, without findings");
    sub->add_flag("--no-invented", options->noInvented, "Without invented takes");
    sub->footer("Examples:\n"
                "  valve-ladder players\n"
                "  valve-ladder players --brief --no-invented --json");
    sub->callback([&tool, options] { tool.job = [&tool, options] { return players(tool, *options); }; });
}

} // namespace valveladder::console
