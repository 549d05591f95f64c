#pragma once

#include <optional>
#include <string>
#include <string_view>

namespace valveladder {

/// A pitch as a MIDI note number, 0..127, C4 = 60 = middle C. Whether it is written or sounding pitch is said
/// by the name of whatever holds it.
using MidiNote = int;

inline constexpr MidiNote lowestMidiNote = 0;
inline constexpr MidiNote highestMidiNote = 127;

/// How pitch names are shown. `german` writes H for B natural and B for B flat; `fixedDo` writes do re mi.
enum class Spelling { sharps, flats, german, fixedDo };

/// "F#3", "Gb3", "Fis3" or "fa#3"; the octave number is that of C4 = middle C in every spelling.
[[nodiscard]] std::string pitchName(MidiNote note, Spelling spelling);

/// Reads "F#3", "Gb3", "f#3", "Bb-1"; nothing for anything else or outside 0..127.
[[nodiscard]] std::optional<MidiNote> parsePitch(std::string_view text);

/// Equal temperament, f = a4 * 2^((note - 69)/12); a4Hz 440 by ISO 16:1975. `note` may be fractional.
[[nodiscard]] double frequencyHz(double note, double a4Hz = 440.0);

/// The reverse: 69 + 12 * log2(hz / a4Hz), fractional. `hz` must be positive.
[[nodiscard]] double midiOf(double hz, double a4Hz = 440.0);

/// 1200 * log2(hz / referenceHz). Both must be positive.
[[nodiscard]] double centsBetween(double hz, double referenceHz);

} // namespace valveladder
