#include "Screen/WhyEmpty.h"

#include "Screen/Type.h"
#include "View/Words.h"

namespace valveladder {

std::optional<CardContent> whyEmpty(const Overview* overview, const juce::String& noneTitle,
                                    const juce::String& noneWords) {
    CardContent content;
    content.closes = false;
    if (overview == nullptr) {
        content.title = words::reading;
        return content;
    }
    if (overview->trouble) {
        content = cardOf(*overview->trouble);
        content.closes = false;
        return content;
    }
    if (!overview->takes.empty())
        return std::nullopt;
    content.title = noneTitle;
    content.words = noneWords;
    if (!overview->others.empty()) {
        content.title = toText(words::noTakeOf(overview->player, overview->instrument));
        content.words = toText(words::takesOfOthers(overview->others));
        content.action = toText(words::goOnAs(overview->others.front().newest.player));
    }
    return content;
}

} // namespace valveladder
