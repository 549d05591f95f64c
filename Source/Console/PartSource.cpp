#include "Console/PartSource.h"

#include "Base/Path.h"

namespace valveladder::console {

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

Result<PartSource::Opened> PartSource::read(const Instrument& instrument) const {
    Result<PartFile> opened = PartFile::open(pathOf(file));
    if (!opened)
        return opened.problem();
    const std::optional<int> only = opened.value().onlyPart();
    if (!part && !only)
        return Problem{fmt::format("the file holds {} parts", opened.value().parts().size()), file,
                       "Choose one with --part; --list shows them"};
    if (part && (*part < 1 || *part > static_cast<int>(opened.value().parts().size())))
        return Problem{fmt::format("there is no part {} in this file", *part), file,
                       "Choose one that --list shows"};
    const int index = part ? *part - 1 : *only;
    Result<PartFile::Line> line = opened.value().read(choice(index), instrument, asWritten);
    if (!line)
        return line.problem();
    PartFile::Line& read = line.value();
    if (read.bySound)
        read.remarks.back() += " (--as-written leaves it as it stands)";
    return Opened{std::move(opened.value()), std::move(read.part), index, std::move(read.remarks)};
}

Result<Part> PartSource::written(const Opened& opened, const Instrument& instrument) const {
    PartChoice wanted = choice(opened.index);
    wanted.unroll = false;
    Result<PartFile::Line> line = opened.file.read(wanted, instrument, asWritten);
    if (!line)
        return line.problem();
    return std::move(line.value().part);
}

void printParts(Tool& tool, const PartFile& file) {
    if (!file.title().empty())
        tool.print("{}\n", file.title());
    for (std::size_t i = 0; i < file.parts().size(); ++i) {
        const PartInfo& part = file.parts()[i];
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

Json partsJson(const PartFile& file) {
    Json parts = Json::array();
    for (const PartInfo& part : file.parts()) {
        Json voices = Json::array();
        for (const PartInfo::Voice& voice : part.voices)
            voices.push_back({{"name", voice.name}, {"notes", voice.notes}});
        parts.push_back({{"part", parts.size() + 1},
                         {"name", part.name},
                         {"transposition", part.transposition},
                         {"voices", std::move(voices)}});
    }
    return {{"title", file.title()}, {"parts", std::move(parts)}};
}

} // namespace valveladder::console
