#include "Base/Path.h"
#include "Base/Sentence.h"
#include "Console/Commands.h"
#include "Console/Help.h"
#include "Console/InstrumentOption.h"
#include "Console/LogOptions.h"
#include "Console/MarkReasons.h"
#include "Console/Options.h"
#include "Console/Output.h"
#include "Console/PartSource.h"
#include "Console/PrintSheet.h"
#include "Console/TimeText.h"
#include "Engraving/SheetContents.h"
#include "Files/FileKinds.h"
#include "Files/PartSmf.h"
#include "Music/Marking.h"
#include "Music/WrittenPart.h"
#include "Records/Json.h"
#include "Review/LoggedChanges.h"
#include "Words/PartWords.h"
#include "Words/TempoWords.h"

#include <algorithm>
#include <memory>

namespace valveladder::console {

namespace {

struct Options {
    PartSource source;
    InstrumentOption instrument;
    LogOptions log;
    OutputOption output;
    PaperOption paper;
    bool list = false;
    int spots = 10;
    double percent = 100.0;
    std::optional<int> drill;
    bool save = false;
};

/// A line with its marks.
struct Marked {
    Instrument instrument;
    PartSource::Opened opened;
    std::string player;     ///< "" = none known
    int ownChanges = 0;     ///< changes whose cost is the player's own
    std::string costsFrom;  ///< what the costs go by, in sentences
    std::string whyNothing; ///< where there is no spot
    PathCosts costs;
    Marking marking;
    std::vector<Spot> spots; ///< those asked for, the costliest first
    int allSpots = 0;
};

Result<OwnChanges> fromLog(const Options& options, const Instrument& instrument, std::string& player) {
    std::error_code error;
    if (!std::filesystem::exists(options.log.path(), error)) {
        player = options.log.player.value_or("");
        return OwnChanges{};
    }
    auto store = options.log.openToRead();
    if (!store)
        return store.problem();
    auto whose = options.log.whose(store.value().get());
    if (!whose)
        return whose.problem();
    player = whose.value();
    return loggedChanges(*store.value(), player, instrument.id);
}

Result<Marked> mark(const Options& options) {
    if (!(options.percent >= leastTempoPercent && options.percent <= mostTempoPercent))
        return Problem{fmt::format("{:g} % of the tempo is outside {:g} to {:g}", options.percent,
                                   leastTempoPercent, mostTempoPercent),
                       "--tempo", "100 is the part's own tempo"};
    auto instrument = options.instrument.find();
    if (!instrument)
        return instrument.problem();
    auto opened = options.source.read(instrument.value());
    if (!opened)
        return opened.problem();
    Marked marked{std::move(instrument.value()), std::move(opened.value()), {}, 0, {}, {}, {}, {}, {}, 0};
    auto own = fromLog(options, marked.instrument, marked.player);
    if (!own)
        return own.problem();
    OwnMarking byOwn = markByOwn(marked.opened.line, marked.instrument, own.value(), options.percent / 100.0);
    marked.ownChanges = byOwn.basis.known;
    marked.costs = std::move(byOwn.costs);
    marked.marking = std::move(byOwn.marking);
    marked.spots = std::move(byOwn.spots);
    marked.allSpots = static_cast<int>(marked.spots.size());
    auto from = costsFrom(options.log, marked.player, marked.instrument, byOwn.basis);
    if (!from)
        return from.problem();
    marked.costsFrom = std::move(from.value());
    if (marked.allSpots == 0)
        marked.whyNothing =
            whyNothingMarked(marked.opened.line, marked.marking, marked.instrument, options.percent);
    if (marked.spots.size() > static_cast<std::size_t>(std::max(options.spots, options.drill.value_or(0))))
        marked.spots.resize(static_cast<std::size_t>(std::max(options.spots, options.drill.value_or(0))));
    return marked;
}

Json spotJson(const Marked& marked, std::size_t index) {
    const Spot& spot = marked.spots[index];
    const auto& bars = marked.opened.line.bars;
    Json json{{"spot", index + 1},
              {"words", spot.words},
              {"from", marked.instrument.combinationName(spot.change.from)},
              {"to", marked.instrument.combinationName(spot.change.to)},
              {"firstBar", bars[static_cast<std::size_t>(spot.firstBar)].number},
              {"lastBar", bars[static_cast<std::size_t>(spot.lastBar)].number},
              {"times", spot.times},
              {"passes", spot.passes},
              {"cost", spot.cost},
              {"changesPerSecond", spot.changesPerSecond}};
    json["limit"] = spot.limit ? Json(*spot.limit) : Json(nullptr);
    return json;
}

void printMarked(Tool& tool, const Marked& marked, const std::vector<std::string>& files) {
    for (const std::string& file : files)
        tool.print("{}: the part with fingerings and {}\n", file,
                   counted(static_cast<long>(marked.spots.size()), "marked spot"));
    const Part& line = marked.opened.line;
    const auto alternates = std::count_if(marked.marking.notes.begin(), marked.marking.notes.end(),
                                          [](const MarkedNote& note) { return note.rank > 0; });
    if (!marked.opened.file.title().empty())
        tool.print("{}\n", marked.opened.file.title());
    tool.print("{}: {} notes in {} bars, for {}\n", line.name.empty() ? "Part" : line.name,
               marked.marking.notes.size(), line.bars.size(), marked.instrument.name);
    tool.printText(wrapped(oneLine(marked.costsFrom), textWidth) + "\n");
    tool.print("Notes whose alternate fingering costs less: {}\n\n", alternates);
    for (std::size_t i = 0; i < marked.spots.size(); ++i)
        tool.print("{:>3}  {}\n     cost {:.2f}\n", i + 1, marked.spots[i].words, marked.spots[i].cost);
    if (marked.allSpots > static_cast<int>(marked.spots.size()))
        tool.print("     and {} more\n", marked.allSpots - static_cast<int>(marked.spots.size()));
    if (!marked.whyNothing.empty())
        tool.printText(wrapped(oneLine(marked.whyNothing), textWidth) + "\n");
}

Json markedJson(const Marked& marked, const std::vector<std::string>& files) {
    Json notes = Json::array();
    for (const MarkedNote& note : marked.marking.notes) {
        const PartNote& of = marked.opened.line.notes[static_cast<std::size_t>(note.note)];
        notes.push_back({{"bar", marked.opened.line.bars[static_cast<std::size_t>(of.bar)].number},
                         {"written", writtenName(of)},
                         {"valves", marked.instrument.combinationName(note.fingering.combination)},
                         {"rank", note.rank},
                         {"seconds", note.seconds},
                         {"cost", note.cost}});
    }
    Json spots = Json::array();
    for (std::size_t i = 0; i < marked.spots.size(); ++i)
        spots.push_back(spotJson(marked, i));
    return {{"title", marked.opened.file.title()},
            {"part", marked.opened.index + 1},
            {"name", marked.opened.line.name},
            {"instrument", marked.instrument.id},
            {"player", marked.player},
            {"ownChanges", marked.ownChanges},
            {"costsFrom", marked.costsFrom},
            {"whyNothing", marked.whyNothing.empty() ? Json() : Json(marked.whyNothing)},
            {"cost", marked.marking.cost},
            {"allSpots", marked.allSpots},
            {"file", files.empty() ? Json() : Json(files.front())},
            {"files", files},
            {"spots", std::move(spots)},
            {"notes", std::move(notes)}};
}

/// The files that were written.
using Written = Result<std::vector<std::string>>;

/// Some 200 pages: nobody's part is longer.
constexpr std::size_t mostPrintedBars = 5000;

/// A MIDI file is printed as it is played: it holds no repeats.
Written printPart(Tool& tool, const Options& options, const Marked& marked) {
    Part part = marked.opened.line;
    WrittenMarks marks{marked.marking, marked.spots};
    if (marked.opened.file.musicXml() != nullptr) {
        auto written = options.source.written(marked.opened, marked.instrument);
        if (!written)
            return written.problem();
        part = std::move(written.value());
        const Marking alone = markPart(part, marked.instrument, marked.costs, options.percent / 100.0);
        marks = onWrittenPart(part, alone, marked.opened.line, marked.marking, marked.spots);
    }
    if (part.bars.size() > mostPrintedBars)
        return Problem{fmt::format("the part has {} bars, more than the {} that are printed",
                                   part.bars.size(), mostPrintedBars),
                       options.source.file, "Write MusicXML or MIDI, or give the piece in several files"};
    const auto content =
        partContent(part, marks.marking, marks.spots, marked.instrument, marked.opened.file.title());
    if (!content)
        return content.problem();
    return printSheet(tool, options.output, content.value(), options.paper.paper());
}

template <typename Content>
Written writeWhole(Tool& tool, const Options& options, const Content& content) {
    const auto done = deliver(tool, options.output, content);
    return done ? Written(std::vector{options.output.path}) : Written(done.problem());
}

Written writePart(Tool& tool, const Options& options, const Marked& marked) {
    if (isPrinted(options.output))
        return printPart(tool, options, marked);
    const std::filesystem::path path = pathOf(options.output.path);
    if (hasSmfName(path))
        return writeWhole(tool, options,
                          writeSmf(partFile(marked.opened.line, marked.marking, marked.spots)));
    const MusicXmlFile* musicXml = marked.opened.file.musicXml();
    if (musicXml == nullptr)
        return Problem{words::noNotation, options.source.file,
                       "Give -o a name that ends in .mid, or read the part as MusicXML"};
    const MusicXmlForm form = hasMxlName(path) ? MusicXmlForm::compressed : MusicXmlForm::plain;
    auto bytes = musicXml->marked(
        marked.opened.index, noteMarks(marked.opened.line, marked.marking, marked.spots, marked.instrument),
        form);
    if (!bytes)
        return bytes.problem();
    return writeWhole(tool, options, bytes.value());
}

Result<Done> saveRules(const Options& options, const Marked& marked, const Drill& drill, TempoRules rules) {
    if (marked.player.empty() && !options.log.player)
        return Problem{"the plan is of a player, and none is named", "--save", "Name one with --player"};
    auto store = options.log.openOrMake();
    if (!store)
        return store.problem();
    return store.value()->setRules(marked.player, marked.instrument.id, drill.name,
                                   withZone(std::move(rules)));
}

Result<Done> writeDrill(Tool& tool, const Options& options, const Marked& marked) {
    const int number = *options.drill;
    if (number < 1 || number > static_cast<int>(marked.spots.size()))
        return Problem{fmt::format("there is no spot {}", number), "--drill",
                       marked.allSpots > 0 ? fmt::format("Choose from 1 to {}", marked.allSpots)
                                           : marked.whyNothing};
    const Spot& spot = marked.spots[static_cast<std::size_t>(number - 1)];
    auto drill = spotDrill(marked.opened.line, marked.marking, spot, marked.instrument);
    if (!drill)
        return drill.problem();
    const TempoRules rules = spotRules(spot, drill.value());
    if (options.save)
        if (auto saved = saveRules(options, marked, drill.value(), rules); !saved)
            return saved;
    auto done = deliver(tool, options.output, toJson(drill.value(), rules) + "\n");
    if (!done || options.output.toStandardOutput())
        return done;
    if (tool.json)
        tool.printJson({{"file", options.output.path},
                        {"drill", drill.value().name},
                        {"rungs", rungs(drill.value()).size()},
                        {"startBpm", rules.startBpm},
                        {"ceilingBpm", rules.ceilingBpm},
                        {"saved", options.save}});
    else
        tool.print("{}: {}\n{} rungs of {} segments, from {} to {} bpm in {} notes{}\n", options.output.path,
                   drill.value().name, rungs(drill.value()).size(), drill.value().segments.size(),
                   words::tempoText(rules.startBpm), words::tempoText(rules.ceilingBpm),
                   drill.value().noteTicks * 2 == ticksPerQuarter ? "eighth" : "sixteenth",
                   options.save ? "; the plan is kept in the log" : "");
    return Done{};
}

Result<Done> list(Tool& tool, const PartFile& file) {
    if (tool.json)
        tool.printJson(partsJson(file));
    else
        printParts(tool, file);
    return Done{};
}

Result<Done> run(Tool& tool, const Options& options) {
    if (options.drill && options.output.path.empty())
        return Problem{"a drill needs a file to be written to", "--drill", "Name one with -o"};
    if (options.list) {
        const auto opened = PartFile::open(pathOf(options.source.file));
        return opened ? list(tool, opened.value()) : Result<Done>(opened.problem());
    }
    auto result = mark(options);
    if (!result)
        return result.problem();
    const Marked& marked = result.value();
    for (const std::vector<std::string>* remarks : {&marked.opened.remarks, &marked.marking.remarks})
        for (const std::string& remark : *remarks)
            tool.warn(remark);
    if (options.drill)
        return writeDrill(tool, options, marked);
    std::vector<std::string> files;
    if (!options.output.path.empty()) {
        auto written = writePart(tool, options, marked);
        if (!written)
            return written.problem();
        if (options.output.toStandardOutput())
            return Done{};
        files = std::move(written.value());
    }
    if (tool.json)
        tool.printJson(markedJson(marked, files));
    else
        printMarked(tool, marked, files);
    return Done{};
}

} // namespace

void addMark(CLI::App& app, Tool& tool) {
    auto options = std::make_shared<Options>();
    CLI::App* sub = app.add_subcommand(
        "mark",
        "Find the awkward spots of a piece, and make drills of them\n\nReads a part, finds the fingering "
        "path "
        "that costs least at the part's tempo, and ranks the changes by cost times occurrence. The cost of a "
        "change is the share of the time between two notes that it takes: by the player's own changeovers "
        "where the log holds them, else by fingers moved, so then only comparisons count. The limit is where "
        "a "
        "changeover would fill half of the time; it tells about fingers, not about tongue or breath.");
    options->source.add(*sub);
    options->instrument.add(*sub);
    sub->add_flag("--list", options->list, "The parts and voices of the file, no more");
    sub->add_option("--spots", options->spots, "How many spots (10)")
        ->option_text("N")
        ->check(CLI::Range(0, 1000000));
    addNumber(*sub, "--tempo", options->percent, "Percent of the part's own tempo (100)")
        ->option_text("PERCENT");
    options->output.add(*sub,
                        "The part with fingerings and marks: as MusicXML (.musicxml, .mxl), printed (.pdf, "
                        ".svg), or as MIDI with markers (.mid); with --drill, the drill");
    options->paper.add(*sub);
    sub->add_option("--drill", options->drill,
                    "A drill from this spot: cells, then the bar, in four segments, with its tempo plan")
        ->option_text("SPOT");
    sub->add_flag("--save", options->save, "With --drill, keep the tempo plan in the log as well");
    options->log.addPlayer(*sub);
    options->log.addFile(*sub);
    sub->footer("Examples:\n"
                "  valve-ladder mark etude.mxl --list\n"
                "  valve-ladder mark etude.mxl --part 2 -i horn-f --player Ann\n"
                "  valve-ladder mark etude.mxl --part 2 -o marked.musicxml\n"
                "  valve-ladder mark etude.mxl --part 2 -o marked.pdf\n"
                "  valve-ladder mark etude.mxl --part 2 -o marked.mid\n"
                "  valve-ladder mark etude.mxl --part 2 --drill 1 -o spot.json\n"
                "  valve-ladder guide --drill spot.json -o spot.mid");
    sub->callback([&tool, options] { tool.job = [&tool, options] { return run(tool, *options); }; });
}

} // namespace valveladder::console
