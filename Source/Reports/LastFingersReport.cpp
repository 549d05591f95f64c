#include "Reports/LastFingersReport.h"

#include "Words/SuspectWords.h"

#include <fmt/format.h>

namespace valveladder {

namespace {

std::string row(const LastFinger& finger, bool thumbValve) {
    const std::string share = fmt::format("{:.0f} % ({:.0f}-{:.0f})", finger.percent.value,
                                          finger.percent.low, finger.percent.high);
    const std::string behind = finger.behindMs ? fmt::format("{:.0f} ({:.0f}-{:.0f})", finger.behindMs->value,
                                                             finger.behindMs->low, finger.behindMs->high)
                                               : std::string("-");
    return fmt::format("  {:<13}{:>13}  {:<14}{:>7}{:>8.0f}  {}{}\n", inWords(finger.suspect, thumbValve),
                       fmt::format("{} of {}", finger.last, finger.told), share, finger.apart,
                       finger.byChance, behind, finger.claimed ? " *" : "");
}

} // namespace

const char* name(OrderFrom from) {
    return from == OrderFrom::sensors ? "valve sensors" : from == OrderFrom::sound ? "sound" : "nothing";
}

std::string lastFingersText(const std::vector<LastFinger>& fingers, bool thumbValve) {
    std::string text;
    auto last = OrderFrom::nothing;
    for (const auto& finger : fingers) {
        if (finger.from != last) {
            text += fmt::format("{}Which finger came last in all takes, by {}\n",
                                last == OrderFrom::nothing ? "" : "\n", name(finger.from));
            text += fmt::format("  {:<13}{:>13}  {:<14}{:>7}{:>8}  {}\n", "finger", "last", "share", "apart",
                                "chance", "behind, ms");
        }
        last = finger.from;
        text += row(finger, thumbValve);
    }
    if (!text.empty())
        text += "In changes of two valves or more; 90 % intervals; * beyond chance\n";
    return text;
}

} // namespace valveladder
