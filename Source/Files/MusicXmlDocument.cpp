#include "Files/MusicXmlDocument.h"

#include "Valves/Interval.h"

#include <array>
#include <cstdlib>
#include <sstream>

namespace valveladder {

void appendMusicXmlProlog(pugi::xml_document& document) {
    pugi::xml_node declaration = document.append_child(pugi::node_declaration);
    declaration.append_attribute("version") = "1.0";
    declaration.append_attribute("encoding") = "UTF-8";
    declaration.append_attribute("standalone") = "no";
    document.append_child(pugi::node_doctype)
        .set_value("score-partwise PUBLIC \"-//Recordare//DTD MusicXML 4.0 Partwise//EN\" "
                   "\"http://www.musicxml.org/dtds/partwise.dtd\"");
}

pugi::xml_node addText(pugi::xml_node parent, const char* name, const std::string& text) {
    pugi::xml_node node = parent.append_child(name);
    node.text() = text.c_str();
    return node;
}

void appendPitch(pugi::xml_node note, int step, int alter, int octave) {
    static constexpr std::array<const char*, 7> letters{"C", "D", "E", "F", "G", "A", "B"};
    pugi::xml_node pitch = note.append_child("pitch");
    addText(pitch, "step", letters.at(static_cast<std::size_t>(step)));
    if (alter != 0)
        addText(pitch, "alter", std::to_string(alter));
    addText(pitch, "octave", std::to_string(octave));
}

void appendTranspose(pugi::xml_node attributes, int semitones) {
    if (semitones == 0)
        return;
    // Letter steps of an interval of 0..11 semitones, as transposing parts are spelled.
    static constexpr std::array<int, semitonesAnOctave> letterSteps{0, 1, 1, 2, 2, 3, 3, 4, 5, 5, 6, 6};
    const int octaves = semitones / semitonesAnOctave;
    const int within = semitones % semitonesAnOctave;
    const int letters = letterSteps.at(static_cast<std::size_t>(std::abs(within))) * (within < 0 ? -1 : 1);
    pugi::xml_node transpose = attributes.append_child("transpose");
    addText(transpose, "diatonic", std::to_string(letters));
    addText(transpose, "chromatic", std::to_string(within));
    if (octaves != 0)
        addText(transpose, "octave-change", std::to_string(octaves));
}

std::string documentText(const pugi::xml_document& document) {
    std::ostringstream stream;
    document.save(stream, "  ", pugi::format_indent, pugi::encoding_utf8);
    return stream.str();
}

} // namespace valveladder
