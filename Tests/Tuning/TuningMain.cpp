// Tallies takes of the tuning parts, and fits constants to them. Nothing here is a live player.
#include "Support/CorpusRun.h"
#include "Tuning/LikelihoodFit.h"
#include "Tuning/RearticulationFit.h"

#include <CLI/CLI.hpp>

#include <array>
#include <iostream>
#include <iterator>
#include <map>
#include <string>

namespace valveladder::testing {
namespace {

const std::map<std::string, Part> partNames{
    {"tuning", Part::tuning}, {"seen", Part::seen},   {"tallied", Part::tallied}, {"third", Part::third},
    {"test", Part::test},     {"later", Part::later}, {"rooms", Part::rooms},     {"halls", Part::halls}};
const std::map<std::string, Condition> conditionNames{{"clean", Condition::clean},
                                                      {"uneven", Condition::uneven},
                                                      {"faulty", Condition::faulty},
                                                      {"parted", Condition::parted},
                                                      {"stumbling", Condition::stumbling}};
const std::map<std::string, Life> lifeNames{{"dry", Life::dry},
                                            {"room", Life::room},
                                            {"beside", Life::besideAnother},
                                            {"connected", Life::connected},
                                            {"real", Life::realNotes}};

/// Of made-up players whose fingers come apart.
constexpr std::uint32_t tuningSeed = 810000;
constexpr std::uint32_t reportSeed = 7700000;

struct Wanted {
    Part part = Part::tuning;
    Condition condition = Condition::parted;
    Life life = Life::room;
    int size = 1;
    bool stories = false;
};

void tally(const Wanted& wanted) {
    const CorpusResult result = runCorpus(wanted.life, wanted.part, wanted.condition, wanted.size);
    if (wanted.stories)
        for (const std::string& story : result.all.stories)
            std::cout << story << "\n";
    std::cout << table(result, nameOf(wanted.life)) << "false in 200: " << result.all.falseIn200() << "\n";
}

constexpr Part tuningParts[] = {Part::tuning, Part::seen, Part::tallied};

std::vector<KnownReport> reportsOfTuning(int size) {
    std::vector<KnownReport> reports;
    for (const Part part : tuningParts)
        std::ranges::move(knownReports(part, size), std::back_inserter(reports));
    return reports;
}

std::vector<KnownRearticulation> rearticulationsOfTuning(int size) {
    std::vector<KnownRearticulation> known;
    for (const Part part : tuningParts)
        std::ranges::move(knownRearticulations(part, size), std::back_inserter(known));
    return known;
}

int run(int argc, char** argv) {
    CLI::App app{"Tallies and fits the listening on takes whose truth is known"};
    app.require_subcommand(1);
    Wanted wanted;
    CLI::App& tallies = *app.add_subcommand("tally", "what is heard right of a part");
    tallies.add_option("--part", wanted.part)->transform(CLI::CheckedTransformer(partNames));
    tallies.add_option("--condition", wanted.condition)->transform(CLI::CheckedTransformer(conditionNames));
    tallies.add_option("--life", wanted.life)->transform(CLI::CheckedTransformer(lifeNames));
    tallies.add_option("--size", wanted.size, "takes of each combination");
    tallies.add_flag("--stories", wanted.stories, "each failure");
    CLI::App& likelihood =
        *app.add_subcommand("likelihood", "writes ReportLikelihoodConstants.h, fitted to the tuning parts");
    likelihood.add_option("--size", wanted.size, "takes of each combination");
    CLI::App& rearticulations = *app.add_subcommand(
        "rearticulations", "writes RearticulationEvidenceConstants.h, fitted to the tuning parts");
    rearticulations.add_option("--size", wanted.size, "takes of each combination");
    CLI::App& calibration = *app.add_subcommand("calibration", "how often reports of a part are so");
    calibration.add_option("--part", wanted.part)->transform(CLI::CheckedTransformer(partNames));
    calibration.add_option("--size", wanted.size, "takes of each combination");
    CLI11_PARSE(app, argc, argv);
    if (tallies.parsed())
        tally(wanted);
    if (likelihood.parsed())
        std::cout << weightsHeader(fittedWeights(reportsOfTuning(wanted.size)),
                                   fittedWeights(knownLateFingers(tuningSeed, 4 * wanted.size)));
    if (rearticulations.parsed())
        std::cout << rearticulationHeader(rearticulationsOfTuning(wanted.size));
    if (calibration.parsed())
        std::cout << calibrationTable(knownReports(wanted.part, wanted.size),
                                      knownLateFingers(reportSeed, 2 * wanted.size));
    return 0;
}

} // namespace
} // namespace valveladder::testing

int main(int argc, char** argv) {
    return valveladder::testing::run(argc, argv);
}
