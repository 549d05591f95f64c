#pragma once

#include "Files/Smf.h"
#include "Guide/GuideSettings.h"
#include "Session/SessionSetup.h"

#include <string>

namespace valveladder {

/// What of the drill goes into the DAW as a MIDI file.
enum class DawMidi { guide, tempoMap, backing };

/// "Valve Ladder guide.mid".
[[nodiscard]] std::string dawMidiName(DawMidi what);

/// The drill that is practised, at the planned tempo, with the parts and channels of `settings`: the guide;
/// the tempo of the next five takes as the plan steps them (of one, where it steps by days alone); the
/// backing, its drone where no part is on.
[[nodiscard]] Result<SmfFile> dawMidi(DawMidi what, const SessionSetup& setup, const GuideSettings& settings);

} // namespace valveladder
