#include "Files/PracticeSheet.h"

#include "Base/Version.h"
#include "Engraving/SheetLayout.h"
#include "Engraving/SheetSpelling.h"
#include "Files/MusicXmlDocument.h"
#include "Valves/Spelling.h"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>
#include <numeric>
#include <pugixml.hpp>

namespace valveladder {

namespace {

const char* accidentalName(int alter) {
    return alter > 0 ? "sharp" : alter < 0 ? "flat" : "natural";
}

/// MusicXML's beam values.
const char* beamValue(BeamPart part) {
    switch (part) {
    case BeamPart::begin:
        return "begin";
    case BeamPart::through:
        return "continue";
    case BeamPart::end:
        return "end";
    case BeamPart::forwardHook:
        return "forward hook";
    case BeamPart::backwardHook:
        return "backward hook";
    }
    return "";
}

/// Writes the sheet's tree.
class SheetWriter {
public:
    SheetWriter(const Score& s, const Drill& d, const Instrument& i, double tempo, const SheetOptions& o,
                const SheetLayout& l)
        : score(s), drill(d), instrument(i), bpm(tempo), options(o), layout(l), divisor(commonDivisor(l)) {}

    std::string write() {
        pugi::xml_document document;
        appendMusicXmlProlog(document);
        pugi::xml_node root = document.append_child("score-partwise");
        root.append_attribute("version") = "4.0";
        writeHead(root);
        pugi::xml_node part = root.append_child("part");
        part.append_attribute("id") = "P1";
        for (std::size_t bar = 0; bar < layout.bars.size(); ++bar)
            writeBar(part, static_cast<int>(bar));
        return documentText(document);
    }

private:
    static std::int64_t commonDivisor(const SheetLayout& layout) {
        std::int64_t divisor = layout.quarter;
        for (const SheetBar& bar : layout.bars)
            for (const SheetSymbol& symbol : bar.symbols)
                divisor = std::gcd(divisor, symbol.value.length);
        return divisor;
    }

    void writeHead(pugi::xml_node root) const {
        addText(root.append_child("work"), "work-title", options.title.empty() ? drill.name : options.title);
        addText(root.append_child("identification").append_child("encoding"), "software",
                "Valve Ladder " + std::string(programVersion()));
        pugi::xml_node scorePart = root.append_child("part-list").append_child("score-part");
        scorePart.append_attribute("id") = "P1";
        addText(scorePart, "part-name", instrument.name);
    }

    void writeBar(pugi::xml_node part, int index) {
        const SheetBar& bar = layout.bars[static_cast<std::size_t>(index)];
        pugi::xml_node measure = part.append_child("measure");
        measure.append_attribute("number") = index + 1;
        accidentals.newBar();
        const bool newRung = bar.span >= 0 && span(bar.span).segment == 0;
        if (newRung && index > 0)
            measure.append_child("print").append_attribute("new-system") = "yes";
        if (index == 0) {
            writeAttributes(measure);
            writeTempo(measure);
        }
        for (const SheetSymbol& symbol : bar.symbols) {
            if (startsSpan(symbol))
                writeSegmentWords(measure, scoreNote(symbol));
            writeSymbol(measure, symbol);
        }
    }

    void writeAttributes(pugi::xml_node measure) const {
        pugi::xml_node attributes = measure.append_child("attributes");
        addText(attributes, "divisions", std::to_string(layout.quarter / divisor));
        addText(attributes.append_child("key"), "fifths", "0");
        pugi::xml_node time = attributes.append_child("time");
        addText(time, "beats", std::to_string(drill.meter.beats));
        addText(time, "beat-type", std::to_string(drill.meter.unit));
        pugi::xml_node clef = attributes.append_child("clef");
        const bool treble = instrument.clef == Clef::treble;
        addText(clef, "sign", treble ? "G" : "F");
        addText(clef, "line", treble ? "2" : "4");
        appendTranspose(attributes, instrument.transposition);
    }

    void writeTempo(pugi::xml_node measure) const {
        pugi::xml_node direction = measure.append_child("direction");
        direction.append_attribute("placement") = "above";
        pugi::xml_node metronome = direction.append_child("direction-type").append_child("metronome");
        addText(metronome, "beat-unit", "quarter");
        addText(metronome, "per-minute", fmt::format("{:g}", bpm));
        direction.append_child("sound").append_attribute("tempo") = fmt::format("{:g}", bpm).c_str();
    }

    void writeSegmentWords(pugi::xml_node measure, const ScoreNote& note) const {
        pugi::xml_node direction = measure.append_child("direction");
        direction.append_attribute("placement") = "above";
        if (note.segment == 0)
            addText(direction.append_child("direction-type"), "rehearsal",
                    score.rungLabels.at(static_cast<std::size_t>(note.rung)));
        addText(direction.append_child("direction-type"), "words",
                fmt::format("{}. {}", note.segment + 1,
                            score.segmentNames.at(static_cast<std::size_t>(note.segment))));
    }

    void writeSymbol(pugi::xml_node measure, const SheetSymbol& symbol) {
        pugi::xml_node node = measure.append_child("note");
        Spelled spelled;
        if (symbol.note < 0) {
            pugi::xml_node rest = node.append_child("rest");
            if (symbol.wholeBar)
                rest.append_attribute("measure") = "yes";
        } else {
            spelled = layout.spelled(score, symbol.note);
            appendPitch(node, spelled.step, spelled.alter, spelled.octave);
        }
        addText(node, "duration", std::to_string(symbol.value.length / divisor));
        writeTies(node, "tie", symbol);
        addText(node, "voice", "1");
        if (!symbol.wholeBar)
            writeValue(node, symbol, spelled);
        for (std::size_t level = 0; level < symbol.beams.size(); ++level)
            addText(node, "beam", beamValue(symbol.beams[level])).append_attribute("number") =
                static_cast<int>(level) + 1;
        writeNotations(node, symbol);
    }

    void writeValue(pugi::xml_node node, const SheetSymbol& symbol, const Spelled& spelled) {
        addText(node, "type", noteTypeName(symbol.value.power));
        for (int dot = 0; dot < symbol.value.dots; ++dot)
            node.append_child("dot");
        if (symbol.note >= 0)
            writeAccidental(node, symbol, spelled);
        if (symbol.ratio.isTuplet()) {
            pugi::xml_node modification = node.append_child("time-modification");
            addText(modification, "actual-notes", std::to_string(symbol.ratio.actual));
            addText(modification, "normal-notes", std::to_string(symbol.ratio.normal));
        }
    }

    void writeAccidental(pugi::xml_node node, const SheetSymbol& symbol, const Spelled& spelled) {
        if (const auto alter = accidentals.print(spelled, symbol.tiedFrom))
            addText(node, "accidental", accidentalName(*alter));
    }

    static void writeTies(pugi::xml_node node, const char* element, const SheetSymbol& symbol) {
        if (symbol.tiedFrom)
            node.append_child(element).append_attribute("type") = "stop";
        if (symbol.tiedTo)
            node.append_child(element).append_attribute("type") = "start";
    }

    void writeNotations(pugi::xml_node node, const SheetSymbol& symbol) const {
        pugi::xml_node notations = node.append_child("notations");
        writeTies(notations, "tied", symbol);
        if (symbol.note >= 0)
            writeSlurs(notations, symbol);
        if (symbol.tupletStart)
            writeTuplet(notations, "start");
        if (symbol.tupletStop)
            writeTuplet(notations, "stop");
        if (symbol.note >= 0 && !symbol.tiedFrom && options.fingerings)
            writeFingering(notations.append_child("technical"), scoreNote(symbol));
        if (symbol.note >= 0)
            writeArticulations(notations, symbol);
        if (!notations.first_child())
            node.remove_child(notations);
    }

    void writeSlurs(pugi::xml_node notations, const SheetSymbol& symbol) const {
        const bool from = !symbol.tiedFrom && slurred(symbol.note + 1) && !slurred(symbol.note);
        const bool to = !symbol.tiedTo && slurred(symbol.note) && !slurred(symbol.note + 1);
        for (const char* type : {from ? "start" : nullptr, to ? "stop" : nullptr})
            if (type) {
                pugi::xml_node slur = notations.append_child("slur");
                slur.append_attribute("type") = type;
                slur.append_attribute("number") = 1;
            }
    }

    static void writeTuplet(pugi::xml_node notations, const char* type) {
        notations.append_child("tuplet").append_attribute("type") = type;
    }

    /// The alternate stands first: programs that keep one fingering of a note keep the last (MuseScore 3).
    void writeFingering(pugi::xml_node technical, const ScoreNote& note) const {
        if (options.alternates)
            writeAlternate(technical, note);
        addText(technical, "fingering", instrument.combinationName(note.combination));
    }

    void writeAlternate(pugi::xml_node technical, const ScoreNote& note) const {
        if (const auto other = printedAlternate(instrument, note))
            addText(technical, "fingering", instrument.combinationName(*other))
                .append_attribute("alternate") = "yes";
    }

    void writeArticulations(pugi::xml_node notations, const SheetSymbol& symbol) const {
        const ScoreNote& note = scoreNote(symbol);
        const bool accent = note.accent && !symbol.tiedFrom;
        const bool breath = endsSpan(symbol);
        if (!accent && !breath)
            return;
        pugi::xml_node articulations = notations.append_child("articulations");
        if (accent)
            articulations.append_child("accent");
        if (breath)
            articulations.append_child("breath-mark");
    }

    [[nodiscard]] const ScoreSpan& span(int index) const {
        return score.spans[static_cast<std::size_t>(index)];
    }
    [[nodiscard]] const ScoreNote& scoreNote(const SheetSymbol& symbol) const {
        return score.notes[static_cast<std::size_t>(symbol.note)];
    }
    [[nodiscard]] bool slurred(int note) const {
        return note < static_cast<int>(score.notes.size()) &&
               score.notes[static_cast<std::size_t>(note)].slurFromPrevious;
    }
    [[nodiscard]] bool startsSpan(const SheetSymbol& symbol) const {
        return symbol.note >= 0 && !symbol.tiedFrom && span(scoreNote(symbol).span).firstNote == symbol.note;
    }
    [[nodiscard]] bool endsSpan(const SheetSymbol& symbol) const {
        const ScoreSpan& own = span(scoreNote(symbol).span);
        return !symbol.tiedTo && own.firstNote + own.noteCount - 1 == symbol.note;
    }
    const Score& score;
    const Drill& drill;
    const Instrument& instrument;
    double bpm;
    const SheetOptions& options;
    const SheetLayout& layout;
    std::int64_t divisor;
    BarAccidentals accidentals;
};

} // namespace

Result<std::string> practiceSheet(const Score& score, const Drill& drill, const Instrument& instrument,
                                  double bpm, const SheetOptions& options) {
    const Result<SheetLayout> layout =
        layOut(score, drill, options.names.value_or(writtenSpelling(drill, instrument)));
    if (!layout)
        return layout.problem();
    return SheetWriter(score, drill, instrument, bpm, options, layout.value()).write();
}

} // namespace valveladder
