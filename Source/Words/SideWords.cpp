#include "Words/SideWords.h"

#include "Findings/Suspect.h"

#include <fmt/format.h>

#include <array>
#include <cmath>

namespace valveladder {

namespace {

/// What is compared, which way more and less of it are, and what is counted.
struct MeasureWords {
    const char* what;
    const char* more;
    const char* less;
    const char* counted;
};
constexpr std::array<MeasureWords, sideMeasures> measureWords{
    {{"Notes", "later", "earlier", "notes"},
     {"Changeovers", "longer", "shorter", "changes"},
     {"Pitch", "higher", "lower", "notes"}}};

const MeasureWords& wordsOf(NoteMeasure measure) {
    return measureWords[static_cast<std::size_t>(measure)];
}

/// "3 ms longer, 90 % interval -1 to 7 ms (80 changes)": the interval is told the way that the difference
/// goes.
std::string figures(const Estimate& difference, NoteMeasure measure, const char* surely) {
    const bool less = difference.value < 0;
    const auto whole = [](double value) { return std::lround(value); }; // no "-0"
    const double low = less ? -difference.high : difference.low;
    const double high = less ? -difference.low : difference.high;
    const MeasureWords& words = wordsOf(measure);
    return fmt::format("{} {} {}, {}90 % interval {} to {} {} ({} {})", whole(std::abs(difference.value)),
                       unit(measure), less ? words.less : words.more, surely, whole(low), whole(high),
                       unit(measure), difference.n, words.counted);
}

/// An interval of 90 % may leave nought out where what is claimed is asked to be surer than that.
std::string differenceWords(const Estimate& difference, NoteMeasure measure, bool beyondChance) {
    if (beyondChance)
        return figures(difference, measure, "more than chance. ");
    if (difference.low > 0.0 || difference.high < 0.0)
        return figures(difference, measure, "likely, but not sure enough to be claimed. ");
    return "no difference that can be told. " + figures(difference, measure, "");
}

} // namespace

std::string sideLine(const Estimate& difference, NoteMeasure measure, bool beyondChance) {
    return fmt::format("{}: {}", wordsOf(measure).what, differenceWords(difference, measure, beyondChance));
}

std::string notComparedLine(NoteMeasure measure) {
    return fmt::format("{}: not measured in both", wordsOf(measure).what);
}

std::string sideChangeLine(const ComparedChange& one, NoteMeasure measure, bool thumbValve) {
    return fmt::format("{}: {}", changeName(one.change, thumbValve),
                       differenceWords(one.difference, measure, one.beyondChance));
}

std::vector<SideLine> sideLines(const SideOverall& overall, bool thumbValve) {
    using enum SideLine::About;
    std::vector<SideLine> lines;
    for (std::size_t i = 0; i < sideMeasures; ++i) {
        const auto measure = static_cast<NoteMeasure>(i);
        if (overall.difference[i].n == 0) {
            lines.push_back({nothingInBoth, notComparedLine(measure)});
            continue;
        }
        lines.push_back({allNotes, sideLine(overall.difference[i], measure, overall.beyondChance[i])});
        for (const ComparedChange& change : overall.changes[i])
            if (change.beyondChance)
                lines.push_back({oneChange, sideChangeLine(change, measure, thumbValve)});
    }
    return lines;
}

} // namespace valveladder
