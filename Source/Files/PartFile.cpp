#include "Files/PartFile.h"

#include "Base/FileBytes.h"
#include "Base/Path.h"
#include "Files/FileKinds.h"
#include "Files/MxlArchive.h"
#include "Files/PartSmf.h"

#include <algorithm>
#include <array>
#include <fmt/format.h>
#include <map>
#include <numeric>
#include <set>

namespace valveladder {

namespace {

/// It begins as XML in any of its encodings, or as a zip archive.
bool mayBeMusicXml(const std::vector<std::uint8_t>& bytes) {
    static constexpr std::array<std::uint8_t, 7> lead{0xEF, 0xBB, 0xBF, 0xFE, 0xFF, 0x00, ' '};
    static constexpr std::array<std::uint8_t, 3> space{'\t', '\r', '\n'};
    const auto leads = [](std::uint8_t byte) {
        return std::find(lead.begin(), lead.end(), byte) != lead.end() ||
               std::find(space.begin(), space.end(), byte) != space.end();
    };
    const auto first = std::find_if_not(bytes.begin(), bytes.end(), leads);
    return looksZipped(bytes) || (first != bytes.end() && *first == '<');
}

/// By what it holds, and where that is broken by what it is called: a damaged MIDI file is told of as one.
bool isSmf(const std::vector<std::uint8_t>& bytes, const std::filesystem::path& path) {
    return beginsAsSmf(bytes) || (hasSmfName(path) && !mayBeMusicXml(bytes));
}

constexpr const char* kindsRead =
    "parts are read as MusicXML (.musicxml, .xml, .mxl) and as MIDI (.mid): export it "
    "again as one of them, or choose another file";

/// What cannot be a part at all.
Problem ofNoKindRead(const std::vector<std::uint8_t>& bytes, const std::filesystem::path& path) {
    std::string what = "this is neither a MusicXML nor a MIDI file";
    if (bytes.empty())
        what = "the file is empty: " + what;
    else if (hasMusicXmlName(path))
        what = "the file is damaged, or of another kind than its name says: " + what;
    return {std::move(what), pathText(path), kindsRead};
}

/// What looks like MusicXML and cannot be read as it.
Problem noMusicXml(const Problem& problem, const std::filesystem::path& path) {
    if (hasSmfName(path))
        return {"the file is of another kind than its name says: it is not a Standard MIDI File",
                pathText(path), kindsRead};
    Problem told = inFile(problem, pathText(path));
    told.what = "the file cannot be read as MusicXML: " + told.what;
    return told;
}

/// A part for another instrument is fingered by what it sounds.
void fingerBySound(PartFile::Line& line, const Instrument& instrument) {
    Part& part = line.part;
    if (part.transposition == instrument.transposition)
        return;
    line.bySound = true;
    line.remarks.push_back(
        fmt::format("the part sounds {} semitones from what is written, {} {}: it is fingered "
                    "by what sounds",
                    part.transposition, instrument.name, instrument.transposition));
    for (PartNote& note : part.notes) {
        note.written = instrument.written(note.sounding);
        note.alter.reset();
    }
}

} // namespace

Result<PartFile> PartFile::open(const std::filesystem::path& path) {
    const auto bytes = readFileBytes(path, maxMusicXmlBytes);
    if (!bytes)
        return bytes.problem();
    PartFile file;
    file.path = pathText(path);
    if (isSmf(bytes.value(), path)) {
        Result<SmfFile> smf = readSmf(bytes.value());
        if (!smf && !beginsAsSmf(bytes.value()))
            return Problem{smf.problem().what, file.path, kindsRead};
        if (!smf)
            return inFile(smf.problem(), file.path);
        file.infos = partsOf(smf.value());
        file.midi = std::move(smf.value());
        return file;
    }
    if (!mayBeMusicXml(bytes.value()))
        return ofNoKindRead(bytes.value(), path);
    Result<MusicXmlFile> score = MusicXmlFile::read(bytes.value());
    if (!score)
        return noMusicXml(score.problem(), path);
    file.heading = score.value().title();
    file.infos = score.value().parts();
    file.document = std::move(score.value());
    return file;
}

std::optional<int> PartFile::onlyPart() const {
    std::optional<int> only;
    for (std::size_t i = 0; i < infos.size(); ++i)
        if (notesIn(infos[i]) > 0) {
            if (only)
                return std::nullopt;
            only = static_cast<int>(i);
        }
    return only;
}

Result<PartFile::Line> PartFile::read(const PartChoice& choice, const Instrument& instrument,
                                      bool asWritten) const {
    Result<Part> part =
        document ? document->part(choice) : partFromSmf(*midi, choice, instrument.transposition);
    if (!part)
        return inFile(part.problem(), path);
    Line line;
    line.part = std::move(part.value());
    line.remarks = line.part.remarks;
    if (!asWritten)
        fingerBySound(line, instrument);
    if (line.part.notes.empty())
        return Problem{"this line holds no notes", path, "Choose another part or voice"};
    return line;
}

int notesIn(const PartInfo& part) {
    return std::accumulate(part.voices.begin(), part.voices.end(), 0,
                           [](int sum, const PartInfo::Voice& voice) { return sum + voice.notes; });
}

std::vector<NoteMark> noteMarks(const Part& part, const Marking& marking, std::span<const Spot> spots,
                                const Instrument& instrument) {
    std::vector<NoteMark> marks;
    std::set<int> seen;
    const auto sourceOf = [&](const MarkedNote& note) {
        return part.notes[static_cast<std::size_t>(note.note)].source;
    };
    std::map<int, std::string> words; // by the note of the file
    for (const Spot& spot : spots) {
        std::string& said = words[sourceOf(marking.notes[static_cast<std::size_t>(spot.notes.front())])];
        said += (said.empty() ? "" : "; ") + spot.words;
    }
    for (const MarkedNote& note : marking.notes) {
        const int source = sourceOf(note);
        if (source >= 0 && seen.insert(source).second)
            marks.push_back({source, instrument.combinationName(note.fingering.combination), words[source]});
    }
    return marks;
}

} // namespace valveladder
