#include "Console/Commands.h"
#include "Console/InstrumentOption.h"
#include "Console/Options.h"
#include "Valves/Fingering.h"
#include "Valves/Spelling.h"

#include <memory>

namespace valveladder::console {

namespace {

struct FingeringOptions {
    InstrumentOption instrument;
    std::vector<std::string> notes;
    bool sounding = false;
};

/// "F#3" or "F#3..C4".
Result<std::vector<MidiNote>> notesOf(const std::string& text) {
    const std::size_t dots = text.find("..");
    const auto first = parsePitch(text.substr(0, dots));
    const auto last = dots == std::string::npos ? first : parsePitch(text.substr(dots + 2));
    if (!first || !last || *last < *first)
        return Problem{"this is not a pitch", text, "Give pitches such as F#3, Bb4, or a range F#3..C4"};
    std::vector<MidiNote> notes;
    for (MidiNote note = *first; note <= *last; ++note)
        notes.push_back(note);
    return notes;
}

Json asJson(const Instrument& instrument, MidiNote written, const std::vector<Fingering>& choices) {
    Json list = Json::array();
    for (const Fingering& choice : choices)
        list.push_back({{"valves", instrument.combinationName(choice.combination)},
                        {"partial", choice.partial},
                        {"loweringSemitones", choice.lowering},
                        {"cents", choice.cents},
                        {"side", instrument.sides[static_cast<std::size_t>(choice.side)].name}});
    return {{"written", writtenName(instrument, written)},
            {"sounding", soundingName(instrument, instrument.sounding(written))},
            {"fingerings", std::move(list)}};
}

void print(Tool& tool, const Instrument& instrument, MidiNote written,
           const std::vector<Fingering>& choices) {
    tool.print("{} written, {} sounding", writtenName(instrument, written),
               soundingName(instrument, instrument.sounding(written)));
    if (choices.empty()) {
        tool.print(": cannot be sounded on {} ({} to {})\n", instrument.name,
                   writtenName(instrument, instrument.lowest), writtenName(instrument, instrument.highest));
        return;
    }
    tool.print("\n");
    for (const Fingering& choice : choices) {
        const std::string& side = instrument.sides[static_cast<std::size_t>(choice.side)].name;
        tool.print("  {:<8} partial {:<3} lowered by {:<3} {:+6.1f} cents  {}{}\n",
                   instrument.combinationName(choice.combination), choice.partial, choice.lowering,
                   choice.cents, &choice == &choices.front() ? "usual" : "alternate",
                   side.empty() ? "" : ", " + side + " side");
    }
}

Result<Done> fingering(Tool& tool, const FingeringOptions& options) {
    auto found = options.instrument.find();
    if (!found)
        return found.problem();
    const Instrument& instrument = found.value();
    Json all = Json::array();
    for (const std::string& text : options.notes) {
        auto notes = notesOf(text);
        if (!notes)
            return notes.problem();
        for (const MidiNote given : notes.value()) {
            const MidiNote written = options.sounding ? instrument.written(given) : given;
            const std::vector<Fingering> choices = fingerings(instrument, written);
            if (tool.json)
                all.push_back(asJson(instrument, written, choices));
            else
                print(tool, instrument, written, choices);
        }
    }
    if (tool.json)
        tool.printJson(all);
    return Done{};
}

} // namespace

void addFingering(CLI::App& app, Tool& tool) {
    auto options = std::make_shared<FingeringOptions>();
    CLI::App* sub = app.add_subcommand(
        "fingering", "The fingerings of notes, with their cents\n\nEvery combination that sounds a note, the "
                     "usual one first. Cents are predicted from partial and tube lengths against equal "
                     "temperament, positive is sharp; bore, slides and lips are left out.");
    options->instrument.add(*sub);
    sub->add_option("notes", options->notes, "Written pitches, C4 = middle C, or ranges such as F#3..C4")
        ->required();
    sub->add_flag("--sounding", options->sounding, "The pitches are sounding (concert) pitch");
    sub->footer("Examples:\n"
                "  valve-ladder fingering F#3 D4\n"
                "  valve-ladder fingering F#3..C4 -i euphonium-4-treble\n"
                "  valve-ladder fingering Bb1 --sounding -i tuba-e-flat-4 --json");
    sub->callback([&tool, options] { tool.job = [&tool, options] { return fingering(tool, *options); }; });
}

} // namespace valveladder::console
