#include "Files/MusicXml.h"

#include "Base/FileBytes.h"
#include "Base/Path.h"
#include "Files/MusicXmlDocument.h"
#include "Files/MusicXmlPart.h"
#include "Files/MxlArchive.h"

#include <algorithm>
#include <array>
#include <optional>
#include <pugixml.hpp>
#include <sstream>
#include <string_view>

namespace valveladder {

namespace {

using Name = std::string_view;

constexpr unsigned int keepEverything = pugi::parse_full | pugi::parse_ws_pcdata;

Problem notMusicXml(std::string what, std::string where) {
    return {std::move(what), std::move(where), "export it as MusicXML (.musicxml or .mxl) again"};
}

bool isScore(pugi::xml_node root) {
    return Name(root.name()) == "score-partwise" || Name(root.name()) == "score-timewise";
}

bool declaresEntities(const pugi::xml_document& document) {
    for (pugi::xml_node node : document.children())
        if (node.type() == pugi::node_doctype && Name(node.value()).find("<!ENTITY") != Name::npos)
            return true;
    return false;
}

/// What may stand in a note after its notations, by the standard's content model.
bool followsNotations(pugi::xml_node child) {
    const Name name = child.name();
    return name == "lyric" || name == "play" || name == "listen";
}

pugi::xml_node notationsOf(pugi::xml_node note) {
    if (pugi::xml_node existing = note.child("notations"))
        return existing;
    for (pugi::xml_node child : note.children())
        if (followsNotations(child))
            return note.insert_child_before("notations", child);
    return note.append_child("notations");
}

void mark(pugi::xml_node note, const NoteMark& what) {
    if (!what.fingering.empty()) {
        pugi::xml_node notations = notationsOf(note);
        pugi::xml_node technical = notations.child("technical");
        if (!technical)
            technical = notations.append_child("technical");
        addText(technical, "fingering", what.fingering);
    }
    if (!what.words.empty()) {
        pugi::xml_node direction = note.parent().insert_child_before("direction", note);
        direction.append_attribute("placement") = "above";
        addText(direction.append_child("direction-type"), "words", what.words);
    }
}

} // namespace

struct MusicXmlFile::Content {
    pugi::xml_document document;
    pugi::xml_encoding encoding = pugi::encoding_utf8;
    std::optional<MxlArchive> archive; ///< of a .mxl

    [[nodiscard]] pugi::xml_node root() const { return document.document_element(); }

    std::optional<Problem> parse(std::span<const std::uint8_t> bytes) {
        if (bytes.size() > maxMusicXmlBytes)
            return notMusicXml("it has more than " + std::to_string(maxMusicXmlBytes) + " bytes", "the file");
        const pugi::xml_parse_result result =
            document.load_buffer(bytes.data(), bytes.size(), keepEverything);
        if (!result)
            return notMusicXml(std::string("it is damaged or cut short (XML: ") + result.description() + ")",
                               "byte " + std::to_string(result.offset));
        encoding = result.encoding;
        if (declaresEntities(document))
            return Problem{"the document declares entities, which are not expanded", "its document type",
                           "remove the declarations, or export it again from a notation program"};
        if (!isScore(root()))
            return notMusicXml(std::string("it is XML, but not a MusicXML score: its first element is <") +
                                   root().name() + ">",
                               "the document");
        return std::nullopt;
    }

    /// Those that can be read; the choice of one part should not fail for another's sake.
    [[nodiscard]] std::vector<RawPart> otherParts(int part) const {
        std::vector<RawPart> parts;
        int index = 0;
        for (pugi::xml_node node = root().child("part-list").child("score-part"); node;
             node = node.next_sibling("score-part"), ++index)
            if (index != part)
                if (Result<RawPart> raw = readBars(measuresOf(root(), index)))
                    parts.push_back(std::move(raw.value()));
        return parts;
    }

    [[nodiscard]] std::vector<std::uint8_t> saved(const pugi::xml_document& tree) const {
        std::ostringstream stream;
        tree.save(stream, "", pugi::format_raw | pugi::format_no_declaration, encoding);
        const std::string text = stream.str();
        return {text.begin(), text.end()};
    }
};

MusicXmlFile::MusicXmlFile(std::unique_ptr<Content> read) : content(std::move(read)) {}
MusicXmlFile::MusicXmlFile(MusicXmlFile&&) noexcept = default;
MusicXmlFile& MusicXmlFile::operator=(MusicXmlFile&&) noexcept = default;
MusicXmlFile::~MusicXmlFile() = default;

Result<MusicXmlFile> MusicXmlFile::read(std::span<const std::uint8_t> bytes) {
    auto content = std::make_unique<Content>();
    std::optional<Problem> problem;
    if (looksZipped(bytes)) {
        Result<MxlArchive> archive = readMxl(bytes);
        if (!archive)
            return archive.problem();
        content->archive = std::move(archive.value());
        problem = content->parse(content->archive->entries[content->archive->score].bytes);
    } else {
        problem = content->parse(bytes);
    }
    if (problem)
        return *problem;
    return MusicXmlFile(std::move(content));
}

Result<MusicXmlFile> MusicXmlFile::readFile(const std::filesystem::path& path) {
    const Result<std::vector<std::uint8_t>> bytes = readFileBytes(path, maxMusicXmlBytes);
    if (!bytes)
        return bytes.problem();
    Result<MusicXmlFile> file = read(bytes.value());
    if (!file)
        return inFile(file.problem(), pathText(path));
    return file;
}

std::string MusicXmlFile::title() const {
    const std::string work = content->root().child("work").child_value("work-title");
    return work.empty() ? content->root().child_value("movement-title") : work;
}

std::vector<PartInfo> MusicXmlFile::parts() const {
    std::vector<PartInfo> infos;
    for (pugi::xml_node node : content->root().child("part-list").children("score-part")) {
        PartInfo info{node.child_value("part-name"), 0, {}};
        const Result<RawPart> raw = readBars(measuresOf(content->root(), static_cast<int>(infos.size())));
        if (raw) {
            info.voices = voicesOf(raw.value());
            for (const RawBar& bar : raw.value().bars)
                if (!bar.notes.empty()) {
                    info.transposition = bar.notes.front().transposition;
                    break;
                }
        }
        infos.push_back(std::move(info));
    }
    return infos;
}

Result<Part> MusicXmlFile::part(const PartChoice& choice) const {
    const std::vector<pugi::xml_node> measures = measuresOf(content->root(), choice.part);
    if (measures.empty())
        return Problem{"there is no part " + std::to_string(choice.part + 1) + " with bars in this file",
                       "the part", "choose one of those that it lists"};
    Result<RawPart> raw = readBars(measures);
    if (!raw)
        return raw.problem();
    shareSigns(raw.value(), content->otherParts(choice.part));
    Result<Part> part = assembled(raw.value(), choice);
    if (!part)
        return part;
    int index = 0;
    for (pugi::xml_node node : content->root().child("part-list").children("score-part"))
        if (index++ == choice.part)
            part.value().name = node.child_value("part-name");
    if (!part.value().notes.empty())
        part.value().transposition = part.value().notes.front().sounding - part.value().notes.front().written;
    return part;
}

Result<std::vector<std::uint8_t>> MusicXmlFile::marked(int part, std::span<const NoteMark> marks,
                                                       MusicXmlForm form) const {
    pugi::xml_document copy;
    copy.reset(content->document);
    std::vector<pugi::xml_node> notes;
    for (pugi::xml_node measure : measuresOf(copy.document_element(), part))
        for (pugi::xml_node note : measure.children("note"))
            notes.push_back(note);
    for (const NoteMark& each : marks) {
        if (each.source < 0 || each.source >= static_cast<int>(notes.size()))
            return Problem{"a mark for note " + std::to_string(each.source + 1) + ", which the part has not",
                           "the part", "mark the file that the part was read from"};
        mark(notes[static_cast<std::size_t>(each.source)], each);
    }
    std::vector<std::uint8_t> text = content->saved(copy);
    if (form == MusicXmlForm::plain || (form == MusicXmlForm::asRead && !content->archive))
        return text;
    if (!content->archive)
        return writeMxl(mxlOf(std::move(text)));
    MxlArchive archive = *content->archive;
    archive.entries[archive.score].bytes = std::move(text);
    return writeMxl(archive);
}

} // namespace valveladder
