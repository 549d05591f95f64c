#include "Console/Commands.h"
#include "Console/ReviewOptions.h"
#include "Console/ReviewText.h"

#include <memory>

namespace valveladder::console {

namespace {

Result<Done> findings(Tool& tool, const ReviewOptions& options) {
    auto store = options.log.openToRead();
    if (!store)
        return store.problem();
    auto whom = options.whom(*store.value());
    if (!whom)
        return whom.problem();
    Json all = Json::array();
    bool first = true;
    for (const LogPlayer& player : whom.value()) {
        auto request = options.requestFor(player);
        if (!request)
            return request.problem();
        auto review = reviewOf(*store.value(), request.value());
        if (!review)
            return review.problem();
        if (tool.json) {
            all.push_back(asJson(review.value()));
            continue;
        }
        tool.printText(first ? "" : "\n\n");
        first = false;
        printReview(tool, review.value());
    }
    if (tool.json)
        tool.printJson(all);
    return Done{};
}

} // namespace

void addFindings(CLI::App& app, Tool& tool) {
    auto options = std::make_shared<ReviewOptions>();
    CLI::App* sub = app.add_subcommand(
        "findings",
        "Which change or finger is weak, and how sure that is\n\nFrom the takes in the log, old ones "
        "weighing "
        "less: what is slow, late, uneven or wrong against your own other changes, each with its figure, its "
        "90 % interval and how often it was measured; which finger came last where two valves or more "
        "change, as the sound between the notes or valve sensors tell it; which fingers these takes cannot "
        "tell apart, and what "
        "to "
        "play to tell them; how it went over the days, relaxed against firm, with the minutes played, and "
        "against the plan. With too few takes it says so and claims nothing.");
    options->add(*sub);
    sub->footer("'3 pressing' is the third finger going down, '3 pressing after 1-2' that one\n"
                "change, '0' no valve.\n"
                "Examples:\n"
                "  valve-ladder findings --player Ann\n"
                "  valve-ladder findings --player Ann --from 2026-03-01 --json");
    sub->callback([&tool, options] { tool.job = [&tool, options] { return findings(tool, *options); }; });
}

} // namespace valveladder::console
