// Scores that others wrote, read by us and by programs that we did not write.

#include "OutsideScores.h"

#include "Base/FileBytes.h"
#include "Files/MusicXml.h"
#include "Files/MxlArchive.h"
#include "Files/Smf.h"

#include <fmt/format.h>
#include <gtest/gtest.h>
#include <pugixml.hpp>

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <sstream>

namespace valveladder {

namespace {

class MusicXmlOutside : public testing::Test {
protected:
    void SetUp() override {
        if (!outsideScoresInstalled())
            GTEST_SKIP() << "no outside scores: build the target outside_readers with mscore3 installed";
    }
};

void expectVerovioAgrees(const std::vector<OutsideScore>& scores) {
    int notes = 0;
    for (const OutsideScore& score : scores) {
        SCOPED_TRACE(score.file.filename());
        const Result<MusicXmlFile> read = MusicXmlFile::readFile(score.file);
        ASSERT_TRUE(read) << read.problem().text();
        const NoteCounts ours = notesWeRead(score.file);
        const NoteCounts theirs = notesVerovioRead(score.mei);
        EXPECT_GT(totalOf(ours), 0);
        EXPECT_EQ(totalOf(ours), totalOf(theirs));
        EXPECT_EQ(differences(ours, theirs), "");
        notes += totalOf(ours);
    }
    std::printf("%zu files, %d notes\n", scores.size(), notes);
}

/// The tree in one order of attributes and without blanks between elements: equal for documents that say the
/// same.
void canonical(pugi::xml_node node, std::ostream& out) {
    out << node.name() << '|' << node.value() << '|';
    std::map<std::string, std::string> attributes;
    for (pugi::xml_attribute attribute : node.attributes())
        attributes[attribute.name()] = attribute.value();
    for (const auto& [name, value] : attributes)
        out << name << '=' << value << ';';
    for (pugi::xml_node child : node.children()) {
        const bool blank = child.type() == pugi::node_pcdata &&
                           std::string_view(child.value()).find_first_not_of(" \t\r\n") == std::string::npos;
        if (!blank || node.first_child() == node.last_child())
            canonical(child, out);
    }
    out << "/\n";
}

std::string canonical(std::span<const std::uint8_t> bytes) {
    pugi::xml_document document;
    document.load_buffer(bytes.data(), bytes.size(), pugi::parse_full | pugi::parse_ws_pcdata);
    std::ostringstream out;
    canonical(document, out);
    return out.str();
}

std::vector<std::uint8_t> bytesOf(const std::filesystem::path& path) {
    return readFileBytes(path, maxMusicXmlBytes).value();
}

PartChoice choose(int part) {
    PartChoice choice;
    choice.part = part;
    return choice;
}

/// Onset in quarters / 480 and sounding pitch.
using Played = std::vector<std::pair<long, MidiNote>>;
constexpr double perQuarter = 480.0; // MuseScore's own division

Played playedBy(const SmfFile& file, const SmfTrack& track) {
    Played played;
    for (const SmfEvent& event : track.events)
        if ((event.bytes[0] & 0xF0) == 0x90 && event.bytes[2] > 0)
            played.push_back(
                {std::lround(static_cast<double>(event.tick) / file.ticksPerQuarterNote * perQuarter),
                 event.bytes[1]});
    std::sort(played.begin(), played.end());
    return played;
}

Played playedBy(const Part& part) {
    Played played;
    for (const PartNote& note : part.notes)
        played.push_back({std::lround(static_cast<double>(note.onset) / part.ticksPerQuarter * perQuarter),
                          note.sounding});
    std::sort(played.begin(), played.end());
    return played;
}

std::string firstDifference(const Played& ours, const Played& theirs) {
    for (std::size_t i = 0; i < std::min(ours.size(), theirs.size()); ++i)
        if (ours[i] != theirs[i])
            return fmt::format("note {}: we {} at {}, MuseScore {} at {}", i, ours[i].second, ours[i].first,
                               theirs[i].second, theirs[i].first);
    return "";
}

/// What a program makes of these when it plays is its own: extra notes, moved onsets.
bool isPlainLine(pugi::xml_node root, int part) {
    for (pugi::xml_node measure : measuresOf(root, part))
        for (pugi::xml_node note : measure.children("note")) {
            const pugi::xml_node notations = note.child("notations");
            if (note.child("chord") || note.child("grace") || note.child("cue") || note.child("unpitched") ||
                notations.child("ornaments") || notations.child("arpeggiate") ||
                notations.child("glissando") || notations.child("slide"))
                return false;
        }
    return true;
}

/// The track of each part, or -1 for parts on several staves: MuseScore writes one for its tempo, then one
/// for each staff. Empty where the file does not hold them all.
std::vector<int> tracksOf(pugi::xml_node root, std::size_t tracks) {
    std::vector<int> of;
    int next = 1;
    for (int part = 0; !measuresOf(root, part).empty(); ++part) {
        int staves = 1;
        for (pugi::xml_node measure : measuresOf(root, part))
            for (pugi::xml_node attributes : measure.children("attributes"))
                staves = std::max(staves, attributes.child("staves").text().as_int(1));
        of.push_back(staves == 1 ? next : -1);
        next += staves;
    }
    return static_cast<int>(tracks) == next ? of : std::vector<int>();
}

} // namespace

TEST_F(MusicXmlOutside, PublishedExamplesHoldTheNotesThatVerovioReads) {
    const std::vector<OutsideScore> scores = publishedScores();
    ASSERT_GE(scores.size(), 18U);
    expectVerovioAgrees(scores);
}

TEST_F(MusicXmlOutside, ThirtyFilesOfOtherOriginHoldTheNotesThatVerovioReads) {
    const std::vector<OutsideScore> scores = otherScores();
    ASSERT_GE(scores.size(), 30U);
    expectVerovioAgrees(scores);
}

TEST_F(MusicXmlOutside, CompressedExamplesReadAsTheirPlainOnes) {
    const std::vector<OutsideScore> scores = publishedScores(".mxl");
    ASSERT_GE(scores.size(), 18U);
    for (const OutsideScore& score : scores) {
        SCOPED_TRACE(score.file.filename());
        std::filesystem::path plain = score.file;
        const Result<MusicXmlFile> zipped = MusicXmlFile::readFile(score.file);
        const Result<MusicXmlFile> unzipped = MusicXmlFile::readFile(plain.replace_extension(".xml"));
        ASSERT_TRUE(zipped) << zipped.problem().text();
        ASSERT_TRUE(unzipped) << unzipped.problem().text();
        const int parts = static_cast<int>(unzipped.value().parts().size());
        ASSERT_EQ(static_cast<int>(zipped.value().parts().size()), parts);
        for (int part = 0; part < parts; ++part)
            EXPECT_EQ(zipped.value().part(choose(part)).value(), unzipped.value().part(choose(part)).value());
    }
}

TEST_F(MusicXmlOutside, PlainLinesSoundWhenAndAsMuseScorePlaysThemRepeatsIncluded) {
    int lines = 0;
    int notes = 0;
    for (const auto& scores : {publishedScores(), otherScores()})
        for (const OutsideScore& score : scores) {
            const std::filesystem::path midi =
                outsideFolder() / "midi" / (score.file.stem().string() + ".mid");
            if (!std::filesystem::exists(midi))
                continue;
            SCOPED_TRACE(score.file.filename());
            const Result<MusicXmlFile> read = MusicXmlFile::readFile(score.file);
            const Result<SmfFile> played = readSmfFile(midi);
            ASSERT_TRUE(read && played);
            pugi::xml_document document;
            ASSERT_TRUE(document.load_file(score.file.c_str()));
            const std::vector<PartInfo> parts = read.value().parts();
            const std::vector<int> tracks =
                tracksOf(document.document_element(), played.value().tracks.size());
            for (std::size_t i = 0; i < tracks.size(); ++i) {
                const int index = static_cast<int>(i);
                if (tracks[i] < 0 || parts[i].voices.size() != 1 ||
                    !isPlainLine(document.document_element(), index))
                    continue;
                SCOPED_TRACE(parts[i].name);
                const Played ours = playedBy(read.value().part(choose(index)).value());
                const Played theirs =
                    playedBy(played.value(), played.value().tracks[static_cast<std::size_t>(tracks[i])]);
                EXPECT_EQ(ours.size(), theirs.size());
                EXPECT_EQ(firstDifference(ours, theirs), "");
                ++lines;
                notes += static_cast<int>(ours.size());
            }
        }
    std::printf("%d lines, %d notes\n", lines, notes);
    EXPECT_GE(lines, 20);
}

TEST_F(MusicXmlOutside, WrittenAgainTheyLoseNothing) {
    for (const auto& scores : {publishedScores(), otherScores()})
        for (const OutsideScore& score : scores) {
            SCOPED_TRACE(score.file.filename());
            const std::vector<std::uint8_t> before = bytesOf(score.file);
            const Result<MusicXmlFile> file = MusicXmlFile::read(before);
            ASSERT_TRUE(file) << file.problem().text();
            const Result<std::vector<std::uint8_t>> after = file.value().marked(0, {});
            ASSERT_TRUE(after);
            EXPECT_TRUE(canonical(before) == canonical(after.value()));
        }
}

} // namespace valveladder
