#include "Demo/DemoReport.h"

#include "Base/Sentence.h"
#include "Listening/Measures.h"
#include "Words/PlanWords.h"
#include "Words/SessionWords.h"
#include "Words/TempoWords.h"

#include <algorithm>
#include <fmt/format.h>
#include <map>

namespace valveladder {

namespace {

constexpr std::size_t slowestShown = 3;
constexpr std::size_t fewestChanges = 6; ///< a median of fewer says too little to be shown

std::string takeLine(std::size_t number, const TakeRecord& take) {
    const Performance& played = take.performance;
    const auto spread = played.worstIoiSpreadPercent();
    return fmt::format(
        "{:>4}  {:>7}  {:>6}  {:>5}  {:>5}  {:>6}  {:>5}  {:>9}  {}\n", number,
        words::tempoText(take.header.plannedBpm), words::tempoText(take.playedBpm),
        played.count(Outcome::right), played.count(Outcome::wrong), played.count(Outcome::missed),
        played.extras.size(), spread ? fmt::format("{:.1f} %", *spread) : "-",
        fmt::format("{}{}", words::verdict(take.state == TakeState::whole, take.passed, played.measured()),
                    played.source == Source::sound ? ", by sound" : ""));
}

/// Median lateness of each change, slurred or tongued, over all takes: late arrival against the segment's
/// line.
std::vector<std::pair<double, std::string>> slowestChanges(const std::vector<TakeRecord>& takes,
                                                           bool thumbValve) {
    std::map<Change, std::vector<double>> late;
    for (const TakeRecord& take : takes) {
        std::map<int, double> deviations;
        for (const NoteResult& note : take.performance.notes)
            if (note.deviationMs)
                deviations[note.index] = *note.deviationMs;
        for (const ChangeResult& change : take.performance.changes)
            if (const auto found = deviations.find(change.toIndex); found != deviations.end())
                late[change.change].push_back(found->second);
    }
    std::vector<std::pair<double, std::string>> result;
    for (const auto& [change, values] : late)
        if (values.size() >= fewestChanges)
            result.emplace_back(median(values),
                                fmt::format("{} ({} times)", changeName(change, thumbValve), values.size()));
    std::sort(result.rbegin(), result.rend());
    return result;
}

} // namespace

std::string reportText(const DemoReport& report) {
    std::string text = fmt::format("{} demo: an invented practice session\n\n"
                                   "Player: {} (invented, seed {}). Nothing here was played by a person.\n",
                                   report.pluginName, report.player, report.seed);
    if (!report.takes.empty())
        text += fmt::format("Drill:  {}\n", report.takes.front().header.drillName);
    text += "\nTake  planned  played  right  wrong  missed  extra  IOI spread\n";
    for (std::size_t i = 0; i < report.takes.size(); ++i) {
        text += takeLine(i + 1, report.takes[i]);
        for (const std::string& message : report.takes[i].messages)
            text += "      " + message + "\n";
    }
    const auto slow = slowestChanges(report.takes, report.thumbValve);
    text += "\nChanges that arrived latest (median against the segment's own line):\n";
    for (std::size_t i = 0; i < std::min(slowestShown, slow.size()); ++i)
        text += fmt::format("  {:+6.1f} ms  {}\n", slow[i].first, slow[i].second);
    text += fmt::format("\nNext take: {} bpm. {}\n", words::tempoText(report.next.bpm), inWords(report.next));
    if (!report.found.empty())
        text += "\nWhat was found:\n";
    for (const std::string& found : report.found)
        text += "  - " + sentence(found) + "\n";
    return text;
}

} // namespace valveladder
