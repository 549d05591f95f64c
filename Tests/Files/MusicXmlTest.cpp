#include "Files/MusicXml.h"
#include "Files/MxlArchive.h"

#include <gtest/gtest.h>

#include <string>

namespace valveladder {

namespace {

std::vector<std::uint8_t> bytesOf(const std::string& text) {
    return {text.begin(), text.end()};
}

std::string textOf(const std::vector<std::uint8_t>& bytes) {
    return {bytes.begin(), bytes.end()};
}

const char* const attributes = "<attributes><divisions>6</divisions><key><fifths>2</fifths></key>"
                               "<time><beats>4</beats><beat-type>4</beat-type></time>"
                               "<transpose><chromatic>-2</chromatic></transpose></attributes>";

std::string scoreOf(const std::string& measures) {
    return "<?xml version=\"1.0\"?><score-partwise version=\"4.0\"><part-list><score-part id=\"P1\">"
           "<part-name>Trumpet</part-name></score-part></part-list><part id=\"P1\">" +
           measures + "</part></score-partwise>";
}

std::string bar(const std::string& number, const std::string& content) {
    return "<measure number=\"" + number + "\">" + content + "</measure>";
}

std::string note(const std::string& step, int octave, int duration, const std::string& before = "",
                 const std::string& after = "") {
    const std::string length = duration > 0 ? "<duration>" + std::to_string(duration) + "</duration>" : "";
    return "<note>" + before + "<pitch><step>" + step + "</step><octave>" + std::to_string(octave) +
           "</octave></pitch>" + length + after + "</note>";
}

Part readPart(const std::string& text, const PartChoice& choice = {}) {
    const Result<MusicXmlFile> file = MusicXmlFile::read(bytesOf(text));
    EXPECT_TRUE(file) << (file ? "" : file.problem().text());
    const Result<Part> part = file.value().part(choice);
    EXPECT_TRUE(part) << (part ? "" : part.problem().text());
    return part.value();
}

} // namespace

TEST(MusicXml, WrittenAndSoundingPitchKeyAndMeterAreRead) {
    const Part part = readPart(scoreOf(bar("1", std::string(attributes) + note("D", 5, 24))));
    ASSERT_EQ(part.notes.size(), 1U);
    EXPECT_EQ(part.notes[0].written, 74);
    EXPECT_EQ(part.notes[0].sounding, 72);
    EXPECT_EQ(part.transposition, -2);
    EXPECT_EQ(part.keys.front().fifths, 2);
    EXPECT_EQ(part.meters.front().beats, 4);
    EXPECT_EQ(part.length, 4 * part.ticksPerQuarter);
}

TEST(MusicXml, TiedNotesAreOneAcrossTheBarLine) {
    const Part part =
        readPart(scoreOf(bar("1", std::string(attributes) + note("D", 5, 24, "", "<tie type=\"start\"/>")) +
                         bar("2", note("D", 5, 6, "", "<tie type=\"stop\"/>") + note("D", 5, 18))));
    ASSERT_EQ(part.notes.size(), 2U);
    EXPECT_EQ(part.notes[0].length, 30);
    EXPECT_EQ(part.notes[1].onset, 30);
}

TEST(MusicXml, TieIntoASecondEndingIsHeldOn) {
    const std::string first = "<barline location=\"left\"><ending number=\"1\" type=\"start\"/></barline>";
    const std::string firstEnd = "<barline location=\"right\"><ending number=\"1\" type=\"stop\"/>"
                                 "<repeat direction=\"backward\"/></barline>";
    const std::string second = "<barline location=\"left\"><ending number=\"2\" type=\"start\"/></barline>";
    const Part part =
        readPart(scoreOf(bar("1", std::string(attributes) + note("C", 5, 24, "", "<tie type=\"start\"/>")) +
                         bar("2", first + note("C", 5, 24, "", "<tie type=\"stop\"/>") + firstEnd) +
                         bar("3", second + note("C", 5, 24))));
    ASSERT_EQ(part.notes.size(), 2U);
    EXPECT_EQ(part.notes[0].length, 48);
    EXPECT_EQ(part.notes[1].length, 48);
}

TEST(MusicXml, TripletsAndGraceNotesKeepTheirPlace) {
    const Part part =
        readPart(scoreOf(bar("1", std::string(attributes) + note("C", 5, 2) + note("D", 5, 2) +
                                      note("E", 5, 2) + note("F", 5, 0, "<grace/>") + note("G", 5, 18))));
    ASSERT_EQ(part.notes.size(), 5U);
    EXPECT_EQ(part.notes[1].onset * 3, part.ticksPerQuarter);
    EXPECT_TRUE(part.notes[3].grace);
    EXPECT_EQ(part.notes[3].length, 0);
    EXPECT_EQ(part.notes[3].onset, part.notes[4].onset);
    PartChoice without;
    without.graceNotes = false;
    EXPECT_EQ(
        readPart(scoreOf(bar("1", std::string(attributes) + note("F", 5, 0, "<grace/>") + note("G", 5, 24))),
                 without)
            .notes.size(),
        1U);
}

TEST(MusicXml, OfAChordOneNoteIsTakenAndSaidSo) {
    const std::string text =
        scoreOf(bar("7", std::string(attributes) + note("C", 5, 24) + note("E", 5, 24, "<chord/>")));
    EXPECT_EQ(readPart(text).notes[0].written, 76);
    PartChoice lowest;
    lowest.highest = false;
    const Part part = readPart(text, lowest);
    EXPECT_EQ(part.notes[0].written, 72);
    ASSERT_EQ(part.remarks.size(), 1U);
    EXPECT_NE(part.remarks[0].find("bar 7"), std::string::npos);
}

TEST(MusicXml, SignsAndTempoOfOnePartHoldForTheOthers) {
    const std::string text =
        "<score-partwise version=\"3.1\"><part-list><score-part "
        "id=\"P1\"><part-name>A</part-name></score-part>"
        "<score-part id=\"P2\"><part-name>B</part-name></score-part></part-list><part id=\"P1\">" +
        bar("1", std::string(attributes) + "<sound tempo=\"90\"/>" + note("C", 5, 24)) +
        bar("2", note("D", 5, 24) + "<barline><repeat direction=\"backward\"/></barline>") +
        "</part><part id=\"P2\">" + bar("1", std::string(attributes) + note("E", 4, 24)) +
        bar("2", note("F", 4, 24)) + "</part></score-partwise>";
    PartChoice second;
    second.part = 1;
    const Part part = readPart(text, second);
    EXPECT_EQ(part.bars.size(), 4U);
    EXPECT_EQ(part.bpmAt(0), 90.0);
}

TEST(MusicXml, MarksStandInTheirPlaceAndNothingElseChanges) {
    const std::string text = scoreOf(bar("1", std::string(attributes) + note("C", 5, 12) +
                                                  note("D", 5, 12, "", "<lyric><text>la</text></lyric>")));
    const MusicXmlFile file = std::move(MusicXmlFile::read(bytesOf(text)).value());
    EXPECT_EQ(textOf(file.marked(0, {}).value()), text);
    const std::vector<NoteMark> marks{{1, "1-3", "here"}};
    std::string expected = text;
    const std::string lyric = "<lyric><text>la</text></lyric>";
    expected.insert(expected.find(lyric),
                    "<notations><technical><fingering>1-3</fingering></technical></notations>");
    expected.insert(expected.rfind("<note>"), "<direction placement=\"above\"><direction-type><words>here"
                                              "</words></direction-type></direction>");
    EXPECT_EQ(textOf(file.marked(0, marks).value()), expected);
}

TEST(MusicXml, CompressedFormReadsAsThePlainOne) {
    const std::string text = scoreOf(bar("1", std::string(attributes) + note("C", 5, 24)));
    const MusicXmlFile file = std::move(MusicXmlFile::read(bytesOf(text)).value());
    const std::vector<std::uint8_t> zipped = file.marked(0, {}, MusicXmlForm::compressed).value();
    ASSERT_TRUE(looksZipped(zipped));
    const Result<MusicXmlFile> again = MusicXmlFile::read(zipped);
    ASSERT_TRUE(again) << again.problem().text();
    EXPECT_EQ(textOf(again.value().marked(0, {}, MusicXmlForm::plain).value()), text);
}

// Both are known attacks: "billion laughs" (CWE-776) and external entities (CWE-611).
TEST(MusicXmlRefuses, EntityExpansionAndExternalEntities) {
    const std::string laughs =
        "<?xml version=\"1.0\"?><!DOCTYPE score-partwise [<!ENTITY a \"ha\"><!ENTITY b "
        "\"&a;&a;&a;&a;&a;&a;&a;&a;\">]><score-partwise><part-list>&b;</part-list>"
        "</score-partwise>";
    const std::string external = "<?xml version=\"1.0\"?><!DOCTYPE score-partwise [<!ENTITY x SYSTEM "
                                 "\"file:///etc/passwd\">]><score-partwise>&x;</score-partwise>";
    for (const std::string& text : {laughs, external}) {
        const Result<MusicXmlFile> file = MusicXmlFile::read(bytesOf(text));
        ASSERT_FALSE(file);
        EXPECT_NE(file.problem().what.find("entities"), std::string::npos);
        EXPECT_FALSE(file.problem().remedy.empty());
    }
}

TEST(MusicXmlRefuses, ZipBombsWhateverSizeTheyClaim) {
    MxlArchive bomb = mxlOf(std::vector<std::uint8_t>(maxMusicXmlBytes + 1, ' '));
    const Result<std::vector<std::uint8_t>> zipped = writeMxl(bomb);
    ASSERT_TRUE(zipped);
    EXPECT_LT(zipped.value().size(), maxMusicXmlBytes / 100); // it is a bomb
    const Result<MusicXmlFile> file = MusicXmlFile::read(zipped.value());
    ASSERT_FALSE(file);
    EXPECT_NE(file.problem().what.find("unpacks to more"), std::string::npos);
}

TEST(MusicXmlRefuses, ArchivesCutShortAndSaysThatTheyAreDamaged) {
    const std::vector<std::uint8_t> whole = writeMxl(mxlOf(bytesOf(scoreOf("")))).value();
    const Result<MusicXmlFile> file = MusicXmlFile::read(std::span(whole).first(whole.size() / 2));
    ASSERT_FALSE(file);
    EXPECT_EQ(file.problem().what, "the compressed file is damaged: it is not whole");
    EXPECT_NE(file.problem().remedy.find("export it again"), std::string::npos);
}

TEST(MusicXmlRefuses, ArchivesOfManyFiles) {
    MxlArchive archive = mxlOf(bytesOf(scoreOf("")));
    for (int i = 0; i <= maxArchiveFiles; ++i)
        archive.entries.push_back({"file" + std::to_string(i), {}});
    EXPECT_FALSE(MusicXmlFile::read(writeMxl(archive).value()));
}

TEST(MusicXmlRefuses, OtherXmlBrokenXmlAndDurationsThatDoNotFit) {
    EXPECT_FALSE(MusicXmlFile::read(bytesOf("<svg/>")));
    EXPECT_FALSE(MusicXmlFile::read(bytesOf("<score-partwise><part></score-partwise>")));
    EXPECT_FALSE(MusicXmlFile::read(bytesOf("")));
    for (const char* divisions : {"0", "-1", "1e300", "x"}) {
        const std::string text = scoreOf(bar("1", "<attributes><divisions>" + std::string(divisions) +
                                                      "</divisions></attributes>" + note("C", 5, 1)));
        const Result<MusicXmlFile> file = MusicXmlFile::read(bytesOf(text));
        ASSERT_TRUE(file);
        EXPECT_FALSE(file.value().part({})) << divisions;
    }
}

// XML nested deeper than any score would otherwise end the stack in recursive readers.
TEST(MusicXmlRefuses, OrSurvivesDeepNesting) {
    std::string deep;
    for (int i = 0; i < 100000; ++i)
        deep += "<a>";
    EXPECT_FALSE(MusicXmlFile::read(bytesOf("<score-partwise>" + deep)));
    std::string closed = deep;
    for (int i = 0; i < 100000; ++i)
        closed += "</a>";
    const Result<MusicXmlFile> file =
        MusicXmlFile::read(bytesOf("<score-partwise>" + closed + "</score-partwise>"));
    if (file) {
        EXPECT_TRUE(file.value().marked(0, {}));
    }
}

} // namespace valveladder
