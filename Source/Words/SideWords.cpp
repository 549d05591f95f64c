#include "Words/SideWords.h"

#include <fmt/format.h>

#include <array>
#include <cmath>

namespace valveladder {

namespace {

/// What is compared, and which way more and less of it are.
struct MeasureWords {
    const char* what;
    const char* more;
    const char* less;
};
constexpr std::array<MeasureWords, sideMeasures> measureWords{
    {{"Notes", "later", "earlier"}, {"Changeovers", "longer", "shorter"}, {"Pitch", "higher", "lower"}}};

const MeasureWords& wordsOf(SideMeasure measure) {
    return measureWords[static_cast<std::size_t>(measure)];
}

/// The interval is told the way that the difference goes.
std::string differenceWords(const Estimate& difference, SideMeasure measure, bool beyondChance) {
    const bool less = difference.value < 0;
    const double low = less ? -difference.high : difference.low;
    const double high = less ? -difference.low : difference.high;
    return fmt::format("{}{:.0f} {} {}, {}90 % interval {:.0f} to {:.0f} {} ({} notes)",
                       beyondChance ? "" : "no sure difference. ", std::abs(difference.value), unit(measure),
                       less ? wordsOf(measure).less : wordsOf(measure).more,
                       beyondChance ? "more than chance. " : "", low, high, unit(measure), difference.n);
}

} // namespace

std::string sideLine(const Estimate& difference, SideMeasure measure, bool beyondChance) {
    return fmt::format("{}: {}", wordsOf(measure).what, differenceWords(difference, measure, beyondChance));
}

std::string notComparedLine(SideMeasure measure) {
    return fmt::format("{}: not measured in both", wordsOf(measure).what);
}

std::string sideChangeLine(const ComparedChange& one, SideMeasure measure) {
    return fmt::format("{} to {}: {}", one.change.from.name(), one.change.to.name(),
                       differenceWords(one.difference, measure, one.beyondChance));
}

} // namespace valveladder
