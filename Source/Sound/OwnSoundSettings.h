#pragma once

#include <cstdint>

namespace valveladder {

/// When the guide's pitch is heard.
enum class ToneWhen : std::uint8_t {
    off,
    countInOnly, ///< the first note's pitch in the count-in's last bar, to start from
    always       ///< and every note of the drill
};

/// Our own sound: what of the guide is made audible, and how loud. Levels are in dB below the loudest that
/// the part gets; at silentDb and under it is not heard.
struct OwnSoundSettings {
    static constexpr double silentDb = -60.0;
    static constexpr double loudestDb = 0.0;
    /// Low enough to start with in headphones, by ear, no source.
    static constexpr double usualDb = -12.0;

    bool on = false;
    ToneWhen tone = ToneWhen::countInOnly;
    double clickDb = usualDb;
    double toneDb = usualDb;
    double backingDb = usualDb;

    bool operator==(const OwnSoundSettings&) const = default;
};

} // namespace valveladder
