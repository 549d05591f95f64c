#include "Console/EvaluateCorrections.h"

#include "Console/Help.h"
#include "Listening/Corrections.h"
#include "Records/EnumNames.h"
#include "Words/ReportWords.h"

#include <map>

namespace valveladder::console {

namespace {

using ByInstrument = std::map<std::string, CorrectionTally>;

Json asJson(const CorrectionTally::Count& count) {
    return {{"reported", count.reported}, {"saidRight", count.right}};
}

Json asJson(const CorrectionTally& tally) {
    Json kinds = Json::object();
    for (const auto& [kind, name] : EnumNames<ReportKind>::table)
        kinds[std::string(name)] = asJson(tally.of(kind));
    return {{"takes", tally.takes},      {"correctedTakes", tally.correctedTakes},
            {"notes", tally.notes},      {"reports", asJson(tally.all())},
            {"kinds", std::move(kinds)}, {"falseIn200Notes", tally.falseIn200()}};
}

void printRow(Tool& tool, const std::string& name, const CorrectionTally& tally) {
    const auto all = tally.all();
    tool.print("{:<24}{:>7}{:>10}{:>9}{:>10}{:>7}{:>12.1f}\n", name, tally.takes, tally.correctedTakes,
               tally.notes, all.reported, all.right, tally.falseIn200());
}

void print(Tool& tool, const ByInstrument& instruments, const CorrectionTally& sum) {
    tool.print("{:<24}{:>7}{:>10}{:>9}{:>10}{:>7}{:>12}\n", "instrument", "takes", "corrected", "notes",
               "reported", "right", "in 200");
    for (const auto& [id, tally] : instruments)
        printRow(tool, id, tally);
    if (instruments.size() > 1)
        printRow(tool, "all", sum);
    tool.print("\n{:<24}{:>10}{:>7}\n", "called", "reported", "right");
    for (const auto& [kind, name] : EnumNames<ReportKind>::table)
        if (const auto& count = sum.of(kind); count.reported > 0)
            tool.print("{:<24}{:>10}{:>7}\n", inWords(kind), count.reported, count.right);
    tool.printText("\n" +
                   wrapped("'right': of these reports, how many were not so, as players say; 'in 200': that "
                           "many in 200 notes of all the takes. Nobody need have looked at a take that is "
                           "not corrected, so that more may have been false.",
                           textWidth) +
                   "\n");
}

} // namespace

void CorrectionOptions::add(CLI::App& app) {
    log.addFile(app);
    filter.add(app);
}

Result<Done> evaluateCorrections(Tool& tool, const CorrectionOptions& options) {
    auto log = options.filter.openToRead(options.log);
    if (!log)
        return log.problem();
    ByInstrument instruments;
    const auto count = [&](const TakeRecord& take) {
        instruments[take.header.instrumentId].add(take.performance, take.corrections);
        return true;
    };
    const auto read = log.value().store->forEachTake(log.value().filter, count,
                                                     {.changes = false, .segments = false, .asHeard = true});
    if (!read)
        return read.problem();
    CorrectionTally sum;
    for (const auto& [id, tally] : instruments)
        sum += tally;
    if (tool.json) {
        Json list = Json::object();
        for (const auto& [id, tally] : instruments)
            list[id] = asJson(tally);
        tool.printJson({{"instruments", std::move(list)}, {"all", asJson(sum)}});
    } else {
        print(tool, instruments, sum);
    }
    return Done{};
}

} // namespace valveladder::console
