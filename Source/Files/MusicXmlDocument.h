#pragma once

#include <pugixml.hpp>

#include <string>

namespace valveladder {

// What every MusicXML document of ours is put together from.

/// XML declaration and MusicXML 4.0's public document type.
void appendMusicXmlProlog(pugi::xml_document& document);

/// <name>text</name> as last child.
pugi::xml_node addText(pugi::xml_node parent, const char* name, const std::string& text);

/// <pitch>; `step` 0 = C ... 6 = B, octave of C4 = middle C.
void appendPitch(pugi::xml_node note, int step, int alter, int octave);

/// <transpose> for sounding - written `semitones`; nothing for 0.
void appendTranspose(pugi::xml_node attributes, int semitones);

/// Indented by two spaces, UTF-8.
[[nodiscard]] std::string documentText(const pugi::xml_document& document);

} // namespace valveladder
