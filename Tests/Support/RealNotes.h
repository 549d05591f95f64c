#pragma once

#include "Support/SoundCorpus.h"
#include "Support/SoundTake.h"

#include <cstdint>
#include <filesystem>
#include <string>
#include <vector>

namespace valveladder::testing {

/// Recorded notes of real players, by npm (tonejs-instrument-*-mp3 1.1.2, MIT), installed by the build target
/// outside_readers: trumpet, trombone, horn and tuba, one file a pitch, each as it was played, soft and loud,
/// with its own attack. Every second one, from the lowest, is the tuning part's, the others are for the
/// report.
enum class RealKind { trumpet, trombone, horn, tuba };
inline constexpr RealKind realKinds[] = {RealKind::trumpet, RealKind::trombone, RealKind::horn,
                                         RealKind::tuba};
[[nodiscard]] const char* nameOf(RealKind kind);

struct RealNote {
    int midi = 60; ///< sounding
    double rate = 44100.0;
    std::vector<float> samples; ///< from where it is first heard (-40 dB of its greatest level)
    double speaks = 0.0;        ///< seconds until it is on its pitch
};

/// False where the target was not built or a file is missing.
[[nodiscard]] bool realNotesInstalled();
/// Throws std::runtime_error when they cannot be read.
[[nodiscard]] const std::vector<RealNote>& realNotes(RealKind kind);

struct RealRecipe {
    RealKind kind = RealKind::trumpet;
    Part part = Part::tuning; ///< tuning, or test
    double bpm = 90.0;
    std::uint32_t seed = 1;

    [[nodiscard]] std::string name() const;
};

/// `size` takes of each instrument, over all its range, from 54 to 144 a minute.
[[nodiscard]] std::vector<RealRecipe> realRecipes(Part part, int size);

/// A tongued chromatic run of 78 notes in six rhythms, laid together from the part's notes, each moved to the
/// pitch asked for by resampling, by no more than three semitones, with the level it was recorded at and its
/// attack, cut at its end by a fade of 30 ms; of those near, one that is on its pitch by the half of its
/// length. The truth of an onset: audibleOnset of the note alone, from where it is first heard.
[[nodiscard]] RenderedTake renderReal(const RealRecipe& recipe);

} // namespace valveladder::testing
