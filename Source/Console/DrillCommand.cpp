#include "Base/Sentence.h"
#include "Console/Commands.h"
#include "Console/DrillOptions.h"
#include "Console/Help.h"
#include "Console/Options.h"
#include "Console/Output.h"
#include "Records/Json.h"
#include "Score/Score.h"
#include "Valves/Spelling.h"
#include "Words/BreathWords.h"
#include "Words/TellingApartWords.h"
#include "Words/TempoWords.h"

#include <memory>

namespace valveladder::console {

namespace {

struct Options {
    DrillOptions drill;
    OutputOption output{"-"};
    double bpm = 60.0;
};

/// A drill on an instrument, laid out at a tempo.
struct Laid {
    DrillOptions::Chosen chosen;
    Score score;
};

Result<Laid> lay(const Options& options) {
    auto chosen = options.drill.choose();
    if (!chosen)
        return chosen.problem();
    auto score = buildScore(chosen.value().drill, chosen.value().instrument, options.bpm);
    if (!score)
        return score.problem();
    return Laid{std::move(chosen.value()), std::move(score.value())};
}

Result<Done> make(Tool& tool, const Options& options) {
    auto chosen = options.drill.choose();
    if (!chosen)
        return chosen.problem();
    OutputOption output = options.output;
    output.inPlace = true;
    return deliver(tool, output, toJson(chosen.value().drill) + "\n");
}

Json summary(const Laid& laid, double bpm) {
    Json warnings = Json::array();
    for (const BreathWarning& warning : breathWarnings(laid.score, laid.chosen.drill, bpm))
        warnings.push_back(inWords(warning));
    return {{"name", laid.chosen.drill.name},
            {"instrument", laid.chosen.instrument.id},
            {"rungs", laid.score.rungLabels.size()},
            {"segments", laid.score.segmentNames.size()},
            {"notes", laid.score.notes.size()},
            {"bpm", bpm},
            {"seconds", secondsOf(laid.score.length, bpm)},
            {"warnings", std::move(warnings)},
            {"leftOpen", leftOpenBy(laid.chosen.drill, laid.chosen.instrument)}};
}

void printSummary(Tool& tool, const Laid& laid, double bpm) {
    const int seconds = static_cast<int>(secondsOf(laid.score.length, bpm) + 0.5);
    tool.print("{} on {}\n{} rungs of {} segments, {} notes, {}:{:02} at {} bpm, count-in included\n",
               laid.chosen.drill.name, laid.chosen.instrument.name, laid.score.rungLabels.size(),
               laid.score.segmentNames.size(), laid.score.notes.size(), seconds / 60, seconds % 60,
               words::tempoText(bpm));
    for (const BreathWarning& warning : breathWarnings(laid.score, laid.chosen.drill, bpm))
        tool.print("Warning: {}\n", inWords(warning));
    const auto open = leftOpenBy(laid.chosen.drill, laid.chosen.instrument);
    for (const std::string& words : open)
        tool.printText(wrapped(sentence(words) + ".", textWidth) + "\n");
    if (open.empty())
        tool.print("{}\n", everyFingerTold);
}

Result<Done> check(Tool& tool, const Options& options) {
    auto laid = lay(options);
    if (!laid)
        return laid.problem();
    if (tool.json)
        tool.printJson(summary(laid.value(), options.bpm));
    else
        printSummary(tool, laid.value(), options.bpm);
    return Done{};
}

Json noteJson(const Laid& laid, const ScoreNote& note) {
    return {{"written", writtenName(laid.chosen.instrument, note.written)},
            {"sounding", soundingName(laid.chosen.instrument, note.sounding)},
            {"valves", laid.chosen.instrument.combinationName(note.combination)},
            {"cents", note.predictedCents},
            {"onsetQuarters", quartersOf(note.onset)},
            {"lengthQuarters", quartersOf(note.length)},
            {"accent", note.accent}};
}

Json spansJson(const Laid& laid) {
    Json spans = Json::array();
    for (const ScoreSpan& span : laid.score.spans) {
        Json notes = Json::array();
        for (int i = 0; i < span.noteCount; ++i)
            notes.push_back(noteJson(laid, laid.score.notes[static_cast<std::size_t>(span.firstNote + i)]));
        spans.push_back({{"rung", laid.score.rungLabels[static_cast<std::size_t>(span.rung)]},
                         {"segment", laid.score.segmentNames[static_cast<std::size_t>(span.segment)]},
                         {"notes", std::move(notes)}});
    }
    return spans;
}

std::string withoutEnd(const std::string& line) {
    return line.substr(0, line.find_last_not_of(' ') + 1);
}

/// Notes above, their valves below, as many a line as fit.
void printSpan(Tool& tool, const Laid& laid, const ScoreSpan& span) {
    constexpr int notesPerLine = 11;
    constexpr int columns = 7;
    std::string above = "  ";
    std::string below = "  ";
    for (int i = 0; i < span.noteCount; ++i) {
        const ScoreNote& note = laid.score.notes[static_cast<std::size_t>(span.firstNote + i)];
        above += fmt::format(
            "{:<{}}", writtenName(laid.chosen.instrument, note.written) + (note.accent ? ">" : ""), columns);
        below += fmt::format("{:<{}}", laid.chosen.instrument.combinationName(note.combination), columns);
        if (i + 1 == span.noteCount || (i + 1) % notesPerLine == 0) {
            tool.print("{}\n{}\n", withoutEnd(above), withoutEnd(below));
            above = below = "  ";
        }
    }
}

Result<Done> show(Tool& tool, const Options& options) {
    auto laid = lay(options);
    if (!laid)
        return laid.problem();
    if (tool.json) {
        Json json = summary(laid.value(), options.bpm);
        json["spans"] = spansJson(laid.value());
        tool.printJson(json);
        return Done{};
    }
    printSummary(tool, laid.value(), options.bpm);
    const Score& score = laid.value().score;
    for (const ScoreSpan& span : score.spans) {
        tool.print("\n{}, {}\n", score.rungLabels[static_cast<std::size_t>(span.rung)],
                   score.segmentNames[static_cast<std::size_t>(span.segment)]);
        printSpan(tool, laid.value(), span);
    }
    return Done{};
}

CLI::App* addPart(CLI::App& drill, Tool& tool, const char* name, const char* help,
                  const std::shared_ptr<Options>& options, Result<Done> (*job)(Tool&, const Options&)) {
    CLI::App* sub = drill.add_subcommand(name, help);
    options->drill.add(*sub);
    sub->callback(
        [&tool, options, job] { tool.job = [&tool, options, job] { return job(tool, *options); }; });
    return sub;
}

} // namespace

void addDrill(CLI::App& app, Tool& tool) {
    CLI::App* drill = app.add_subcommand(
        "drill",
        "Make, check and show drills\n\nA drill is a JSON file. Every option changes one thing of the "
        "drill it begins from: the instrument's daily ladder, each rung up and back down in one breath, or "
        "the file that --drill names; 'show' and 'check' take it without --drill as well, and also say "
        "which fingers its takes cannot tell, and what would.");
    drill->require_subcommand(1);
    drill->footer("Example:\n  valve-ladder drill show --bpm 60");

    auto making = std::make_shared<Options>();
    CLI::App* make_ = addPart(*drill, tool, "make", "Write a drill file, new or changed", making, make);
    making->output.add(*make_, "Where to");
    make_->footer("Examples:\n"
                  "  valve-ladder drill make -o daily.json\n"
                  "  valve-ladder drill make --shape up -o up.json\n"
                  "  valve-ladder drill make --foot G3 --last-top F4 --ratio 2:1 -o wide.json\n"
                  "  valve-ladder drill make --cells 'E4=3 F#4 rest=10s; F#4 G4' -o c.json\n"
                  "  valve-ladder drill make --drill daily.json --segments 1,4 -o short.json");

    auto checking = std::make_shared<Options>();
    CLI::App* check_ = addPart(*drill, tool, "check", "Say whether a drill can be played", checking, check);
    checking->drill.addArgument(*check_);
    addNumber(*check_, "--bpm", checking->bpm, "Tempo in quarters a minute, for its length and breaths (60)")
        ->option_text("BPM");
    check_->footer("Exit code 0 when it can be played, 1 when not; a long breath is a warning.\n"
                   "Example:\n  valve-ladder drill check daily.json -i horn-double --bpm 72");

    auto showing = std::make_shared<Options>();
    CLI::App* show_ = addPart(*drill, tool, "show", "Every rung and segment with its valves", showing, show);
    showing->drill.addArgument(*show_);
    addNumber(*show_, "--bpm", showing->bpm, "Tempo in quarters a minute (60)")->option_text("BPM");
    show_->footer("A '>' marks an accent. Pitches are written.\n"
                  "Examples:\n"
                  "  valve-ladder drill show\n"
                  "  valve-ladder drill show spot.json\n"
                  "  valve-ladder drill show -i tuba-b-flat-4 --policy mixed --mix note");
}

} // namespace valveladder::console
