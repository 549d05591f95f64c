#include "Console/Commands.h"
#include "Console/InstrumentOption.h"
#include "Records/DrillNames.h"
#include "Records/Json.h"
#include "Valves/Spelling.h"

#include <memory>

namespace valveladder::console {

namespace {

std::string valvesText(const Instrument& instrument) {
    std::string text = instrument.thumbValve ? "3 + thumb" : std::to_string(instrument.valves);
    return instrument.compensation == Compensation::none ? text : text + ", comp.";
}

Json asJson(const Instrument& instrument) {
    return {{"id", instrument.id},
            {"name", instrument.name},
            {"transposition", instrument.transposition},
            {"valves", instrument.valves},
            {"thumbValve", instrument.thumbValve},
            {"compensation", enumName(instrument.compensation)},
            {"clef", enumName(instrument.clef)},
            {"lowest", writtenName(instrument, instrument.lowest)},
            {"highest", writtenName(instrument, instrument.highest)},
            {"ladderFoot", writtenName(instrument, instrument.ladderFoot)}};
}

Result<Done> list(Tool& tool) {
    Json all = Json::array();
    tool.json ? void() : tool.print("{:<34}{:<12}{:<11}{}\n", "id", "valves", "written", "sounds");
    for (const Instrument& instrument : catalogue()) {
        all.push_back(asJson(instrument));
        if (!tool.json)
            tool.print("{:<34}{:<12}{:<11}{:+d} semitones\n", instrument.id, valvesText(instrument),
                       writtenName(instrument, instrument.lowest) + "-" +
                           writtenName(instrument, instrument.highest),
                       instrument.transposition);
    }
    if (tool.json)
        tool.printJson(all);
    return Done{};
}

Result<Done> show(Tool& tool, const InstrumentOption& chosen) {
    auto found = chosen.find();
    if (!found)
        return found.problem();
    // The whole instrument as a file, so that it can be the beginning of a player's own.
    tool.printBytes(toJson(found.value()) + "\n");
    return Done{};
}

} // namespace

void addInstruments(CLI::App& app, Tool& tool) {
    auto chosen = std::make_shared<InstrumentOption>();
    CLI::App* sub = app.add_subcommand(
        "instruments",
        "The instruments known by name\n\nTransposition, valves, tube lengths and written range "
        "of valved brass. Where yours is not among them, print the nearest as a file, change "
        "transposition, valves or tube lengths in it, and give that file to -i.");
    const CLI::Option* id =
        sub->add_option("id", chosen->given, "Print this one as a JSON file, with its tube lengths");
    sub->footer("Examples:\n"
                "  valve-ladder instruments\n"
                "  valve-ladder instruments euphonium-4-bass > mine.json\n"
                "  valve-ladder fingering G2 -i mine.json");
    sub->callback([&tool, chosen, id] {
        tool.job = [&tool, chosen, one = id->count() > 0] { return one ? show(tool, *chosen) : list(tool); };
    });
}

} // namespace valveladder::console
