#include "Records/Json.h"

#include "Records/DrillNames.h"
#include "Records/JsonIo.h"

namespace valveladder {

// Each struct's members, listed once for reading and writing.

template <typename Io, MaybeConst<Side> T>
void fields(Io& io, T& side) {
    io("name", side.name);
    io("fundamental", side.fundamental);
    io("tubes", side.tubes);
}

template <typename Io, MaybeConst<Instrument> T>
void fields(Io& io, T& instrument) {
    io("id", instrument.id);
    io("name", instrument.name);
    io("transposition", instrument.transposition);
    io("valves", instrument.valves);
    io("thumbValve", instrument.thumbValve);
    io("compensation", instrument.compensation);
    io("clef", instrument.clef);
    io("sides", instrument.sides);
    io("lowest", instrument.lowest);
    io("highest", instrument.highest);
    io("ladderFoot", instrument.ladderFoot);
}

template <typename Io, MaybeConst<LadderPattern> T>
void fields(Io& io, T& ladder) {
    io("foot", ladder.foot);
    io("firstTop", ladder.firstTop);
    io("lastTop", ladder.lastTop);
    io("growth", ladder.growth);
    io("shape", ladder.shape);
}

template <typename Io, MaybeConst<Rhythm> T>
void fields(Io& io, T& rhythm) {
    io("shares", rhythm.shares);
}

template <typename Io, MaybeConst<Accents> T>
void fields(Io& io, T& accents) {
    io("rule", accents.rule);
    io("group", accents.group);
}

template <typename Io, MaybeConst<Segment> T>
void fields(Io& io, T& segment) {
    io("name", segment.name);
    io("rhythm", segment.rhythm);
    io("touch", segment.touch);
    io("accents", segment.accents);
    io("slurred", segment.slurred);
}

template <typename Io, MaybeConst<Meter> T>
void fields(Io& io, T& meter) {
    io("beats", meter.beats);
    io("unit", meter.unit);
}

template <typename Io, MaybeConst<Rest> T>
void fields(Io& io, T& rest) {
    io("amount", rest.amount);
    io("unit", rest.unit);
    io("toNextBar", rest.toNextBar);
}

/// An entry of FingeringPolicy::byHand.
struct ByHand {
    MidiNote written = 60;
    Combination valves;
};

template <typename Io, MaybeConst<ByHand> T>
void fields(Io& io, T& entry) {
    io("written", entry.written);
    io("valves", entry.valves);
}

template <typename Io>
void fields(Io& io, const FingeringPolicy& fingering) {
    std::vector<ByHand> byHand;
    for (const auto& [written, valves] : fingering.byHand)
        byHand.push_back({written, valves});
    io("policy", fingering.policy);
    io("mix", fingering.mix);
    io("byHand", byHand);
}

template <typename Io>
void fields(Io& io, FingeringPolicy& fingering) {
    std::vector<ByHand> byHand;
    io("policy", fingering.policy);
    io("mix", fingering.mix);
    io("byHand", byHand);
    for (const ByHand& entry : byHand)
        fingering.byHand[entry.written] = entry.valves;
}

template <typename Io, MaybeConst<Drill> T>
void drillFields(Io& io, T& drill) {
    io("name", drill.name);
    io("segments", drill.segments);
    io("noteTicks", drill.noteTicks);
    io("repeats", drill.repeats);
    io("meter", drill.meter);
    io("countInBars", drill.countInBars);
    io("rest", drill.rest);
    io("breathSeconds", drill.breathSeconds);
    io("fingering", drill.fingering);
    io("spelling", drill.spelling);
}

template <typename Io, MaybeConst<DrillCell> T>
void fields(Io& io, T& cell) {
    io("notes", cell.notes);
    io("valves", cell.valves);
    io("rest", cell.restAfter);
}

/// A cell is the list of its notes, or an object where it has valves or a rest of its own.
static JsonNode jsonNode(const DrillCell& cell) {
    if (cell.valves.empty() && !cell.restAfter)
        return JsonWriter::node(cell.notes);
    JsonWriter members;
    fields(members, cell);
    return std::move(members.object);
}

static void readJson(const JsonNode& node, const JsonPlace& place, DrillCell& cell) {
    if (node.is_array())
        return readJson(node, place, cell.notes);
    JsonReader reader(node, place);
    fields(reader, cell);
    reader.refuseUnknown();
}

/// The pattern stands as a member "ladder" or a member "cells".
template <typename Io>
void fields(Io& io, const Drill& drill) {
    if (const auto* ladder = std::get_if<LadderPattern>(&drill.pattern))
        io("ladder", *ladder);
    else
        io("cells", std::get<CellPattern>(drill.pattern).cells);
    drillFields(io, drill);
}

template <typename Io>
void fields(Io& io, Drill& drill) {
    std::optional<LadderPattern> ladder;
    std::optional<std::vector<DrillCell>> cells;
    io("ladder", ladder);
    io("cells", cells);
    if (ladder && cells)
        throw Problem{"a drill is a ladder or cells, not both", "ladder", "Take one of the two out"};
    if (cells)
        drill.pattern = CellPattern{std::move(*cells)};
    else if (ladder)
        drill.pattern = *ladder;
    drillFields(io, drill);
}

template <typename Io, MaybeConst<PassRule> T>
void fields(Io& io, T& pass) {
    io("maxWrong", pass.maxWrong);
    io("maxMissed", pass.maxMissed);
    io("maxExtra", pass.maxExtra);
    io("maxIoiSpreadPercent", pass.maxIoiSpreadPercent);
}

template <typename Io, MaybeConst<TempoRules> T>
void fields(Io& io, T& rules) {
    io("startBpm", rules.startBpm);
    io("stepPerTake", rules.stepPerTake);
    io("stepPerDay", rules.stepPerDay);
    io("passesPerStep", rules.passesPerStep);
    io("failuresBeforeBack", rules.failuresBeforeBack);
    io("stepBack", rules.stepBack);
    io("ceilingBpm", rules.ceilingBpm);
    io("toleranceBpm", rules.toleranceBpm);
    io("timeZone", rules.timeZone);
    io("dayStartsAtHour", rules.dayStartsAtHour);
    io("pass", rules.pass);
}

namespace {

/// A drill's text: the drill, and a tempo plan where one belongs to it.
struct DrillDocument {
    Drill drill;
    std::optional<TempoRules> tempo;
};

template <typename Io, MaybeConst<DrillDocument> T>
void fields(Io& io, T& document) {
    fields(io, document.drill);
    io("tempo", document.tempo);
}

constexpr const char* drillFormat = "valve-ladder-drill";
constexpr const char* instrumentFormat = "valve-ladder-instrument";
constexpr const char* rulesFormat = "valve-ladder-tempo-rules";
constexpr int indent = 2; // people edit these

} // namespace

std::string toJson(const Drill& drill) {
    return jsonText(documentOf(drill, drillFormat, documentVersion), indent);
}

Result<Drill> drillFromJson(std::string_view text) {
    Result<DrillDocument> document = readDocument<DrillDocument>(text, drillFormat, documentVersion);
    if (!document)
        return document.problem();
    return std::move(document.value().drill);
}

std::string toJson(const Drill& drill, const TempoRules& rules) {
    return jsonText(documentOf(DrillDocument{drill, rules}, drillFormat, documentVersion), indent);
}

Result<std::optional<TempoRules>> drillRulesFromJson(std::string_view text) {
    const Result<DrillDocument> document = readDocument<DrillDocument>(text, drillFormat, documentVersion);
    if (!document)
        return document.problem();
    return document.value().tempo;
}

std::string toJson(const Instrument& instrument) {
    return jsonText(documentOf(instrument, instrumentFormat, documentVersion), indent);
}

Result<Instrument> instrumentFromJson(std::string_view text) {
    return readDocument<Instrument>(text, instrumentFormat, documentVersion);
}

std::string toJson(const TempoRules& rules) {
    return jsonText(documentOf(rules, rulesFormat, documentVersion), indent);
}

Result<TempoRules> rulesFromJson(std::string_view text) {
    return readDocument<TempoRules>(text, rulesFormat, documentVersion);
}

} // namespace valveladder
