#include "Demo/DemoFindings.h"

#include "Base/Sentence.h"
#include "Reports/LastFingersReport.h"
#include "Words/NextSessionWords.h"
#include "Words/ReviewWords.h"

#include <fmt/format.h>

namespace valveladder {

namespace {

std::string part(const std::string& heading, const std::vector<std::string>& lines) {
    if (lines.empty())
        return "";
    std::string text = "\n" + heading + "\n";
    for (const std::string& line : lines)
        text += "  - " + sentence(line) + "\n";
    return text;
}

} // namespace

Result<Review> reviewOfDemo(const LogStore& log, const SessionConfig& config, UtcMs now) {
    ReviewRequest request;
    request.player = config.player;
    request.instrumentId = config.instrument.id;
    request.invented = true;
    request.minutes = 15.0;
    request.ladder = config.drill;
    request.now = now;
    return reviewOf(log, request);
}

std::vector<std::string> foundBy(const Review& review) {
    return review.words.nothing.empty() ? review.words.standsOut : std::vector{review.words.nothing};
}

std::string findingsText(const Review& review) {
    std::string text = fmt::format("{} on {}, invented: {}\n", review.player, review.instrumentName,
                                   counted(review.takes, "take"));
    text += part("What was found", foundBy(review));
    if (!review.findings.lastFingers.empty())
        text += "\n" + lastFingersText(review.findings.lastFingers, review.thumbValve);
    text += part(words::cannotTellTitle, review.words.remarks);
    text += part(words::trendsTitle, review.words.trends);
    text += part(words::planTitle, review.planDays);
    if (review.next && !review.next->items.empty())
        text += part("Next: " + inWords(*review.next), linesOf(*review.next));
    return text + "\nNothing here was played by a person, and nothing here is a diagnosis.\n";
}

} // namespace valveladder
