#pragma once

#include "Host/TempLog.h"
#include "Records/TakeRecord.h"
#include "Score/Score.h"
#include "Session/SessionSetup.h"

#include <memory>
#include <span>
#include <string>
#include <vector>

namespace valveladder::pictures {

/// Invented takes with kept sound: each note a steady tone of eight harmonics at its own pitch, at a known
/// time, with silence before the next. In a folder of its own, gone after the test.
class KeptTakes {
public:
    KeptTakes();

    struct Wish {
        std::string name = "take-20240304T180000Z-00000001.flac";
        double level = 0.2;    ///< RMS of a tone, full scale = 1
        double lateMs = 0.0;   ///< of every note, against the guide
        double jitterMs = 7.0; ///< up to
        double roundTripMs = 20.0;
        int missed = -1; ///< this note stays silent and unheard
    };
    /// Writes the file and returns the take that names it.
    [[nodiscard]] TakeRecord take(const Wish& wish) const;
    /// Where a note sounds in the file, seconds.
    [[nodiscard]] double onsetOf(const Wish& wish, std::size_t note) const;

    [[nodiscard]] double toneSeconds(std::size_t note) const;

    [[nodiscard]] const Score& score() const { return setup->score(); }
    [[nodiscard]] const std::filesystem::path& folder() const { return place.folder(); }

    static constexpr double rate = 44100.0;
    static constexpr double bpm = 66.0;
    static constexpr std::size_t notes = 28; ///< that are played: the first rung

private:
    host::TempLog place;
    std::shared_ptr<const SessionSetup> setup;
};

/// Frequency of the strongest partial near `aboutHz`, from how fast its phase turns against that frequency:
/// good to a tenth of a cent on a steady tone of half a second.
[[nodiscard]] double frequencyNear(std::span<const float> sound, double rate, double aboutHz);

} // namespace valveladder::pictures
