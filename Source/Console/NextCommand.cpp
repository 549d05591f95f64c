#include "Console/Commands.h"
#include "Console/DrillFile.h"
#include "Console/Help.h"
#include "Console/Options.h"
#include "Console/Output.h"
#include "Console/ReviewOptions.h"
#include "Console/ReviewText.h"
#include "Records/Json.h"
#include "Words/NextSessionWords.h"
#include "Words/TempoWords.h"

#include <algorithm>
#include <memory>

namespace valveladder::console {

namespace {

struct Options {
    ReviewOptions review;
    OutputOption output;
    std::string ladderFile;
    double minutes = SessionRequest::usualMinutes;
    std::optional<double> bpm;
};

Result<Done> checkOptions(const Options& options) {
    constexpr double least = SessionRequest::leastMinutes, most = SessionRequest::mostMinutes;
    if (!(options.minutes >= least && options.minutes <= most))
        return Problem{fmt::format("a session cannot last {:g} minutes", options.minutes), "--minutes",
                       fmt::format("Choose from {:g} to {:g}", least, most)};
    if (auto care = checked(options.review.care); !care)
        return Problem{care.problem().what, "--rest-after, --rest", care.problem().remedy};
    return checkedTempo(options.bpm, "--bpm", "Give a tempo in quarters a minute");
}

/// The instrument that was played last.
LogPlayer newest(const std::vector<LogPlayer>& whom) {
    return *std::max_element(whom.begin(), whom.end(), [](const LogPlayer& a, const LogPlayer& b) {
        return a.newest.startedUtc < b.newest.startedUtc;
    });
}

Result<ReviewRequest> requestOf(const Options& options, const LogStore& store) {
    auto whom = options.review.whom(store);
    if (!whom)
        return whom.problem();
    auto request = options.review.requestFor(newest(whom.value()));
    if (!request)
        return request;
    request.value().minutes = options.minutes;
    request.value().bpm = options.bpm;
    if (!options.ladderFile.empty()) {
        auto ladder = readDrill(options.ladderFile);
        if (!ladder)
            return ladder.problem();
        request.value().ladder = std::move(ladder.value().drill);
        request.value().ladderRules = std::move(ladder.value().rules);
    }
    return request;
}

/// Cautions that belong to the start of a sitting, and those that the takes ask for.
std::vector<CareText> careBefore(const Review& review, const CareSettings& settings) {
    CareMoment moment;
    moment.firmSegmentNext = asksForFirmValves(review.next->drill);
    moment.slowFingers = slowFingers(review.findings.weaknesses);
    moment.firstUse = review.takes == 0;
    return inWords(careNow(settings, moment), settings);
}

void print(Tool& tool, const Review& review, const std::vector<CareText>& care, const OutputOption& output) {
    const PracticeSession& next = *review.next;
    tool.printText(wrapped(oneLine(heading(review)), textWidth));
    tool.printText("\n" + wrapped(inWords(next) + ".", textWidth) + "\n\n");
    printSession(tool, next);
    printPoints(tool, "To know", remarksOn(next));
    printCare(tool, care);
    if (output.path.empty())
        tool.print("\n'-o FILE' writes it as one drill, for --drill and for the plugin.\n");
    else
        tool.print("\n{}: the session as one drill. Its guide, for instance:\n"
                   "  valve-ladder guide -i {} --bpm {} -d {} -o guide.mid\n",
                   output.path, review.instrumentId, words::tempoText(next.bpm), output.path);
}

Result<Done> next(Tool& tool, const Options& options) {
    if (auto valid = checkOptions(options); !valid)
        return valid;
    auto store = options.review.log.openToRead();
    if (!store)
        return store.problem();
    auto request = requestOf(options, *store.value());
    if (!request)
        return request.problem();
    auto review = reviewOf(*store.value(), request.value());
    if (!review)
        return review.problem();
    if (!review.value().next || review.value().next->items.empty())
        return Problem{review.value().next ? remarksOn(*review.value().next).front()
                                           : "the instrument of these takes is not known",
                       "--minutes", "Give more minutes, or another instrument with -i"};
    const PracticeSession& session = *review.value().next;
    if (!options.output.path.empty())
        if (auto done = deliver(tool, options.output,
                                toJson(session.drill, rulesFor(session, review.value().rules)) + "\n");
            !done)
            return done;
    if (options.output.toStandardOutput())
        return Done{};
    const auto care = careBefore(review.value(), request.value().care);
    if (tool.json) {
        Json json = asJson(session);
        json["player"] = review.value().player;
        json["instrument"] = review.value().instrumentId;
        json["file"] = options.output.path.empty() ? Json() : Json(options.output.path);
        json["care"] = asJson(care);
        tool.printJson(json);
    } else {
        print(tool, review.value(), care, options.output);
    }
    return Done{};
}

} // namespace

void addNext(CLI::App& app, Tool& tool) {
    auto options = std::make_shared<Options>();
    CLI::App* sub = app.add_subcommand(
        "next",
        "What to practise next: a session made from the findings\n\nA warm-up, then rounds of three or four "
        "things: small cells with the weak changes, and a rung of your ladder to put them back into the run, "
        "in fourth-valve and 1-3 fingerings where the instrument has both, with rests, at the plan's tempo "
        "and never faster. Where fingers cannot be told apart yet, a cell that tells them is in it. -o "
        "writes "
        "it as one drill with its tempo plan, which every --drill and the plugin read: same notes, valves, "
        "rests and length as printed.");
    addNumber(*sub, "--minutes", options->minutes, "How long, rests included (20)")->option_text("N");
    options->output.add(*sub, "The session as a drill file");
    addNumber(*sub, "--bpm", options->bpm, "Tempo in quarters a minute; without it, the plan's next")
        ->option_text("BPM");
    sub->add_option("-d,--drill", options->ladderFile,
                    "The ladder to take rungs from (the one played last where none is given)")
        ->option_text("FILE");
    addNumber(*sub, "--rest-after", options->review.care.restAfterMinutes,
              "A long rest after so many minutes (25)")
        ->option_text("N");
    addNumber(*sub, "--rest", options->review.care.restMinutes, "Minutes of that rest (5)")->option_text("N");
    options->review.add(*sub);
    sub->footer("Examples:\n"
                "  valve-ladder next --player Ann --minutes 15\n"
                "  valve-ladder next --player Ann -o next.json\n"
                "  valve-ladder guide --drill next.json --bpm 64 -o guide.mid");
    sub->callback([&tool, options] { tool.job = [&tool, options] { return next(tool, *options); }; });
}

} // namespace valveladder::console
