#include "Console/DrillOptions.h"

#include "Base/Number.h"
#include "Console/DrillFile.h"
#include "Console/NamedChoices.h"
#include "Console/Options.h"
#include "Console/Output.h"
#include "Records/DrillNames.h"

#include <algorithm>

namespace valveladder::console {

namespace {

constexpr int ticksPerWhole = 4 * ticksPerQuarter;

/// "1/8", "1/8." dotted, "1/8t" triplet.
std::optional<int> parseNoteValue(std::string text) {
    const char last = text.empty() ? ' ' : text.back();
    if (last == '.' || last == 't')
        text.pop_back();
    const auto denominator = text.starts_with("1/") ? integerIn(text.substr(2)) : std::nullopt;
    if (!denominator || *denominator < 1 || ticksPerWhole % *denominator != 0)
        return std::nullopt;
    const int plain = ticksPerWhole / *denominator;
    return last == '.' ? plain * 3 / 2 : last == 't' ? plain * 2 / 3 : plain;
}

std::optional<std::pair<int, int>> parseRatio(const std::string& text) {
    const auto parts = split(text, ':');
    const auto longPart = integerIn(parts.front());
    const auto shortPart = parts.size() == 2 ? integerIn(parts.back()) : std::nullopt;
    if (!longPart || !shortPart)
        return std::nullopt;
    return std::pair{*longPart, *shortPart};
}

std::optional<Meter> parseMeter(const std::string& text) {
    const auto parts = split(text, '/');
    const auto beats = integerIn(parts.front());
    const auto unit = parts.size() == 2 ? integerIn(parts.back()) : std::nullopt;
    if (!beats || !unit)
        return std::nullopt;
    return Meter{*beats, *unit};
}

/// "2" or "2b" beats, "3s" seconds.
std::optional<Rest> parseRest(std::string text) {
    Rest rest;
    if (text.ends_with('s'))
        rest.unit = Rest::Unit::seconds;
    if (text.ends_with('s') || text.ends_with('b'))
        text.pop_back();
    const auto amount = decimalIn(text);
    if (!amount)
        return std::nullopt;
    rest.amount = *amount;
    return rest;
}

/// "C4", "C4=1-3" into the cell's notes and valves, "rest=10s" into its rest.
bool addToCell(const std::string& text, DrillCell& cell) {
    const auto parts = split(text, '=');
    if (parts.front() == "rest") {
        cell.restAfter = parts.size() == 2 ? parseRest(parts.back()) : std::nullopt;
        return cell.restAfter.has_value();
    }
    const auto note = parsePitch(parts.front());
    const auto valves = parts.size() == 2 ? Combination::parse(parts.back()) : std::nullopt;
    if (!note || parts.size() > 2 || (parts.size() == 2 && !valves))
        return false;
    cell.notes.push_back(*note);
    cell.valves.push_back(valves);
    return true;
}

/// "C4 D4 E4; D4=1-3 E4 F#4 rest=10s"
std::optional<CellPattern> parseCells(const std::string& text) {
    CellPattern pattern;
    for (const std::string& notes : split(text, ';')) {
        DrillCell cell;
        for (const std::string& word : split(notes, ' '))
            if (!word.empty() && !addToCell(word, cell))
                return std::nullopt;
        const auto given = [](const auto& valves) { return valves.has_value(); };
        if (std::none_of(cell.valves.begin(), cell.valves.end(), given))
            cell.valves.clear();
        pattern.cells.push_back(std::move(cell));
    }
    return pattern;
}

std::optional<std::vector<int>> parseSegments(const std::string& text) {
    std::vector<int> numbers;
    for (const std::string& part : split(text, ',')) {
        const auto number = integerIn(part);
        if (!number)
            return std::nullopt;
        numbers.push_back(*number);
    }
    return numbers;
}

/// "rung" as well as "per-rung".
Choices<MixRule> mixRules() {
    constexpr std::string_view per = "per-";
    Choices<MixRule> choices = named<MixRule>();
    for (const auto& [value, name] : EnumNames<MixRule>::table)
        choices.emplace_back(name.data() + per.size(), value);
    return choices;
}

void addPattern(CLI::App& app, DrillOptions& options) {
    const char* group = "Pattern (written pitch, C4 = middle C)";
    addParsed(app, "--foot", options.foot, parsePitch, "a pitch such as F#3",
              "Lowest note of the first rung; the tops move with it where they are not given")
        ->option_text("NOTE")
        ->group(group);
    addParsed(app, "--top", options.firstTop, parsePitch, "a pitch such as C4", "Top of the first rung")
        ->option_text("NOTE")
        ->group(group);
    addParsed(app, "--last-top", options.lastTop, parsePitch, "a pitch such as D4", "Top of the last rung")
        ->option_text("NOTE")
        ->group(group);
    addChoice(app, "--growth", options.growth, named<Growth>(),
              "From rung to rung, foot and top rise together, or the top alone")
        ->group(group);
    addChoice(app, "--shape", options.shape, named<Shape>(),
              "How a rung runs: the daily ladder goes up and down in one breath")
        ->group(group);
    addParsed(
        app, "--cells", options.cells, parseCells, "cells such as 'C4 D4 E4; D4 E4 F#4'",
        "Cells of two to four notes instead of a ladder, each a rung, ';' between them; 'E4=3' asks for "
        "valves, 'rest=10s' for a rest of its own after the cell")
        ->option_text("NOTES")
        ->group(group);
    app.add_option("--repeats", options.repeats, "Times a rung is played in one breath")
        ->option_text("N")
        ->group(group);
}

void addSegments(CLI::App& app, DrillOptions& options) {
    const char* group = "Segments and time";
    addParsed(app, "--segments", options.segments, parseSegments, "a list such as 1,2,3,4",
              "Which of the drill's segments, in order: '1,3' drops two, '2,2' doubles one")
        ->option_text("LIST")
        ->group(group);
    addParsed(app, "--ratio", options.ratio, parseRatio, "a ratio such as 3:1",
              "Long to short in the uneven segments")
        ->option_text("L:S")
        ->group(group);
    addChoice(app, "--articulation", options.slurred, {{"slurred", true}, {"tongued", false}},
              "Of every segment")
        ->group(group);
    addParsed(app, "--note-value", options.noteTicks, parseNoteValue,
              "a note value such as 1/8, 1/8. or 1/8t", "1/8 an eighth, 1/8. dotted, 1/8t of a triplet")
        ->option_text("VALUE")
        ->group(group);
    addParsed(app, "--meter", options.meter, parseMeter, "a meter such as 4/4", "Beats and unit")
        ->option_text("B/U")
        ->group(group);
    app.add_option("--count-in", options.countInBars,
                   fmt::format("Bars counted in, 0 to {}", DrillLimits::maxCountInBars))
        ->option_text("BARS")
        ->group(group);
    addParsed(app, "--rest", options.rest, parseRest, "a rest such as 2b or 3s",
              "Rest between segments: '2b' beats, '3s' seconds, then on to the next bar")
        ->option_text("TIME")
        ->group(group);
    addNumber(app, "--breath", options.breathSeconds, "A segment longer than this is warned of")
        ->option_text("SECONDS")
        ->group(group);
}

void addFingerings(CLI::App& app, DrillOptions& options) {
    const char* group = "Fingerings";
    addChoice(app, "--policy", options.policy, named<Policy>(), "Where there is a choice")->group(group);
    addChoice(app, "--mix", options.mix, mixRules(), "With 'mixed', what the choice changes with")
        ->group(group);
    const auto read = [&options](const std::vector<std::string>& given) {
        for (const std::string& text : given) {
            const auto parts = split(text, '=');
            const auto note = parsePitch(parts.front());
            const auto combination = parts.size() == 2 ? Combination::parse(parts.back()) : std::nullopt;
            if (!note || !combination)
                throw CLI::ValidationError("--use", "'" + text + "' is not a choice such as E4=3");
            options.byHand[*note] = *combination;
        }
    };
    app.add_option_function<std::vector<std::string>>(
           "--use", read, "A fingering by hand, as often as needed: 'E4=3', 'G3=4'")
        ->option_text("NOTE=VALVES")
        ->group(group);
}

void changeLadder(LadderPattern& ladder, const DrillOptions& options) {
    if (options.foot) {
        const int moved = *options.foot - ladder.foot;
        ladder.foot += moved;
        ladder.firstTop += moved;
        ladder.lastTop += moved;
    }
    if (options.firstTop) {
        ladder.lastTop += *options.firstTop - ladder.firstTop;
        ladder.firstTop = *options.firstTop;
    }
    ladder.lastTop = options.lastTop.value_or(ladder.lastTop);
    ladder.growth = options.growth.value_or(ladder.growth);
    ladder.shape = options.shape.value_or(ladder.shape);
}

Result<Done> changePattern(Drill& drill, const DrillOptions& options) {
    if (options.cells)
        drill.pattern = *options.cells;
    const bool asksForLadder =
        options.foot || options.firstTop || options.lastTop || options.growth || options.shape;
    auto* ladder = std::get_if<LadderPattern>(&drill.pattern);
    if (ladder == nullptr && asksForLadder)
        return Problem{"foot, tops, growth and shape belong to a ladder, and this drill is of cells", "drill",
                       "Leave them out, or begin from a ladder"};
    if (ladder != nullptr)
        changeLadder(*ladder, options);
    return Done{};
}

Result<Done> changeSegments(Drill& drill, const DrillOptions& options) {
    if (options.segments) {
        std::vector<Segment> picked;
        for (const int number : *options.segments) {
            if (number < 1 || number > static_cast<int>(drill.segments.size()))
                return Problem{fmt::format("the drill has no segment {}", number), "--segments",
                               fmt::format("Choose from 1 to {}", drill.segments.size())};
            picked.push_back(drill.segments[static_cast<std::size_t>(number - 1)]);
        }
        drill.segments = std::move(picked);
    }
    for (Segment& segment : drill.segments) {
        auto& shares = segment.rhythm.shares;
        if (options.ratio && shares.size() == 2 && !segment.rhythm.isEven()) {
            const bool longFirst = shares[0] > shares[1];
            segment.rhythm = longFirst ? Rhythm::longShort(options.ratio->first, options.ratio->second)
                                       : Rhythm::shortLong(options.ratio->first, options.ratio->second);
        }
        segment.slurred = options.slurred.value_or(segment.slurred);
    }
    return Done{};
}

void changeRest(Drill& drill, const DrillOptions& options) {
    drill.name = options.name.value_or(drill.name);
    drill.noteTicks = options.noteTicks.value_or(drill.noteTicks);
    drill.repeats = options.repeats.value_or(drill.repeats);
    drill.meter = options.meter.value_or(drill.meter);
    drill.countInBars = options.countInBars.value_or(drill.countInBars);
    drill.rest = options.rest.value_or(drill.rest);
    drill.breathSeconds = options.breathSeconds.value_or(drill.breathSeconds);
    drill.fingering.policy = options.policy.value_or(drill.fingering.policy);
    drill.fingering.mix = options.mix.value_or(drill.fingering.mix);
    for (const auto& [note, combination] : options.byHand)
        drill.fingering.byHand[note] = combination;
}

} // namespace

void DrillOptions::add(CLI::App& app) {
    instrument.add(app);
    app.add_option("-d,--drill", file,
                   "A drill file to begin from (the instrument's daily ladder where none is given)")
        ->option_text("FILE");
    app.add_option("--name", name, "The drill's name; takes of one name form one plan")->option_text("TEXT");
    addPattern(app, *this);
    addSegments(app, *this);
    addFingerings(app, *this);
}

void DrillOptions::addArgument(CLI::App& app) {
    app.add_option("FILE", file, "The drill file to begin from, as --drill names it")
        ->excludes(app.get_option("--drill"));
}

Result<DrillOptions::Chosen> DrillOptions::choose() const {
    auto found = instrument.find();
    if (!found)
        return found.problem();
    auto begun = file.empty() ? Result<ReadDrill>(ReadDrill{defaultDrill(found.value()), std::nullopt})
                              : readDrill(file);
    if (!begun)
        return begun.problem();
    Drill drill = std::move(begun.value().drill);
    if (auto done = changePattern(drill, *this); !done)
        return done.problem();
    if (auto done = changeSegments(drill, *this); !done)
        return done.problem();
    changeRest(drill, *this);
    auto valid = checked(std::move(drill), found.value());
    if (!valid)
        return file.empty() ? valid.problem() : inFile(valid.problem(), file);
    return Chosen{std::move(found.value()), std::move(valid.value()), std::move(begun.value().rules)};
}

} // namespace valveladder::console
