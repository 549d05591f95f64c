#include "Console/PartSource.h"

#include "Files/FileBytes.h"
#include "Files/MxlArchive.h"
#include "Files/PartSmf.h"

#include <algorithm>
#include <array>
#include <numeric>

namespace valveladder::console {

namespace {

constexpr std::array<std::uint8_t, 4> smfStart{'M', 'T', 'h', 'd'};

int notesIn(const PartInfo& part) {
    return std::accumulate(part.voices.begin(), part.voices.end(), 0,
                           [](int sum, const PartInfo::Voice& voice) { return sum + voice.notes; });
}

std::optional<int> onlyPart(const std::vector<PartInfo>& parts) {
    std::optional<int> only;
    for (std::size_t i = 0; i < parts.size(); ++i)
        if (notesIn(parts[i]) > 0) {
            if (only)
                return std::nullopt;
            only = static_cast<int>(i);
        }
    return only;
}

Problem inFile(Problem problem, const std::string& file) {
    problem.where = file + (problem.where.empty() ? "" : ", " + problem.where);
    return problem;
}

/// A part for another instrument is fingered by what it sounds.
void fingerBySound(Part& part, const Instrument& instrument, std::vector<std::string>& remarks) {
    if (part.transposition == instrument.transposition)
        return;
    remarks.push_back(fmt::format("the part sounds {} semitones from what is written, {} {}: it is fingered "
                                  "by what sounds (--as-written leaves it as it stands)",
                                  part.transposition, instrument.name, instrument.transposition));
    for (PartNote& note : part.notes)
        note.written = instrument.written(note.sounding);
}

} // namespace

void PartSource::add(CLI::App& app) {
    app.add_option("PART", file, "A MusicXML file (.musicxml, .xml, .mxl) or a MIDI file")
        ->required()
        ->option_text("FILE");
    const char* group = "Which line";
    app.add_option("--part", part, "Which part, from 1, as --list shows them")
        ->option_text("N")
        ->group(group);
    app.add_option("--voice", voice, "Which voice of it (the one with most notes)")
        ->option_text("NAME")
        ->group(group);
    app.add_flag("--lowest", lowest, "Of chords, the lowest note in place of the highest")->group(group);
    app.add_flag("--printed", printed, "Bars as printed, repeats not taken")->group(group);
    app.add_flag("--no-grace", noGrace, "Without grace notes")->group(group);
    app.add_flag("--as-written", asWritten,
                 "Finger the written notes even where the part is for an instrument in another key")
        ->group(group);
}

PartChoice PartSource::choice(int index) const {
    PartChoice wanted;
    wanted.part = index;
    wanted.voice = voice;
    wanted.unroll = !printed;
    wanted.highest = !lowest;
    wanted.graceNotes = !noGrace;
    return wanted;
}

Result<PartSource::Opened> PartSource::open() const {
    const auto bytes = readFileBytes(file, maxMusicXmlBytes);
    if (!bytes)
        return bytes.problem();
    Opened opened;
    if (std::equal(smfStart.begin(), smfStart.end(), bytes.value().begin(),
                   bytes.value().begin() +
                       static_cast<std::ptrdiff_t>(std::min(smfStart.size(), bytes.value().size())))) {
        const Result<SmfFile> smf = readSmf(bytes.value());
        if (!smf)
            return inFile(smf.problem(), file);
        opened.parts = partsOf(smf.value());
    } else {
        Result<MusicXmlFile> score = MusicXmlFile::read(bytes.value());
        if (!score)
            return inFile(score.problem(), file);
        opened.title = score.value().title();
        opened.parts = score.value().parts();
        opened.musicXml = std::move(score.value());
    }
    opened.only = onlyPart(opened.parts);
    return opened;
}

Result<PartSource::Opened> PartSource::read(const Instrument& instrument) const {
    Result<Opened> result = open();
    if (!result)
        return result;
    Opened& opened = result.value();
    if (!part && !opened.only)
        return Problem{fmt::format("the file holds {} parts", opened.parts.size()), file,
                       "Choose one with --part; --list shows them"};
    opened.index = part ? *part - 1 : *opened.only;
    Result<Part> line = [&]() -> Result<Part> {
        if (opened.musicXml)
            return opened.musicXml->part(choice(opened.index));
        const Result<SmfFile> smf = readSmfFile(file);
        return smf ? partFromSmf(smf.value(), choice(opened.index), instrument.transposition)
                   : Result<Part>(smf.problem());
    }();
    if (!line)
        return inFile(line.problem(), file);
    opened.line = std::move(line.value());
    opened.remarks = opened.line.remarks;
    if (!asWritten)
        fingerBySound(opened.line, instrument, opened.remarks);
    if (opened.line.notes.empty())
        return Problem{"this line holds no notes", file, "Choose another part or voice; --list shows them"};
    return result;
}

void printParts(Tool& tool, const PartSource::Opened& opened) {
    if (!opened.title.empty())
        tool.print("{}\n", opened.title);
    for (std::size_t i = 0; i < opened.parts.size(); ++i) {
        const PartInfo& part = opened.parts[i];
        tool.print("{:>3}  {}: {} notes", i + 1, part.name, notesIn(part));
        if (part.transposition != 0)
            tool.print(", sounding {:+} semitones", part.transposition);
        if (part.voices.size() > 1)
            for (std::size_t v = 0; v < part.voices.size(); ++v)
                tool.print("{} {} ({})", v == 0 ? "; voices" : ",", part.voices[v].name,
                           part.voices[v].notes);
        tool.print("\n");
    }
    tool.print("Choose one with --part.\n");
}

Json partsJson(const PartSource::Opened& opened) {
    Json parts = Json::array();
    for (const PartInfo& part : opened.parts) {
        Json voices = Json::array();
        for (const PartInfo::Voice& voice : part.voices)
            voices.push_back({{"name", voice.name}, {"notes", voice.notes}});
        parts.push_back({{"part", parts.size() + 1},
                         {"name", part.name},
                         {"transposition", part.transposition},
                         {"voices", std::move(voices)}});
    }
    return {{"title", opened.title}, {"parts", std::move(parts)}};
}

} // namespace valveladder::console
