#include "Base/Path.h"
#include "Console/Commands.h"
#include "Console/Output.h"
#include "Console/ReviewText.h"
#include "Files/SoundFile.h"
#include "Invented/InventedWeek.h"
#include "Records/Json.h"

#include <memory>

namespace valveladder::console {

namespace {

constexpr double sampleRate = 22050.0; // short to ship; enough for a trumpet's low register

std::string readMe() {
    return fmt::format(R"(Examples of Valve Ladder. All of it is invented: nobody played any of this.

week.sqlite     the log of an invented week: six days, two takes each
report.txt      what 'valve-ladder findings' says of it
one-rung.json   a short drill
one-rung.flac   a take of it, by an invented sound: a sum of harmonics, no instrument's

  valve-ladder findings --log week.sqlite --player "{}"
  valve-ladder assess one-rung.flac -d one-rung.json --picture take.svg
)",
                       InventedWeek::player);
}

Result<std::string> reportOf(const LogStore& log) {
    const auto review = reviewOf(log, InventedWeek::reviewRequest());
    if (!review)
        return review.problem();
    Tool text;
    printReview(text, review.value());
    return text.printed();
}

Result<Done> writeExamples(Tool& tool, const std::filesystem::path& folder) {
    std::error_code error;
    std::filesystem::create_directories(folder, error);
    if (error)
        return Problem{"the folder cannot be made (" + error.message() + ")", pathText(folder),
                       "Name another"};
    auto log = LogStore::open(folder / "week.sqlite");
    if (!log)
        return log.problem();
    if (auto kept = InventedWeek::keepIn(*log.value()); !kept)
        return kept;
    const auto report = reportOf(*log.value());
    if (!report)
        return report.problem();
    const auto sound = InventedWeek::shortSound(sampleRate);
    if (!sound)
        return sound.problem();
    if (auto written = writeSound(folder / "one-rung.flac", sound.value(), sampleRate); !written)
        return written;
    const std::pair<const char*, std::string> texts[] = {
        {"report.txt", report.value()},
        {"one-rung.json", toJson(InventedWeek::shortDrill()) + "\n"},
        {"README.txt", readMe()}};
    for (const auto& [name, text] : texts)
        if (auto written = deliver(tool, OutputOption{pathText(folder / name)}, text); !written)
            return written;
    if (tool.json)
        tool.printJson({{"folder", pathText(folder)}, {"log", pathText(folder / "week.sqlite")}});
    else
        tool.print("{}: README.txt, week.sqlite, report.txt, one-rung.json, one-rung.flac; all invented\n",
                   pathText(folder));
    return Done{};
}

} // namespace

void addExamples(CLI::App& app, Tool& tool) {
    CLI::App* sub =
        app.add_subcommand("examples", "An invented week to look round in, and a short take\n\nWrites a "
                                       "log, its report, a short drill and a sound into a folder. All of "
                                       "it is invented, and marked so. Your own log is not touched.");
    const auto folder = std::make_shared<std::string>();
    sub->add_option("folder", *folder, "Where to; made where it is not there")->required();
    sub->footer("Example:\n  valve-ladder examples look-round");
    sub->callback(
        [&tool, folder] { tool.job = [&tool, folder] { return writeExamples(tool, pathOf(*folder)); }; });
}

} // namespace valveladder::console
