#pragma once

#include "Support/SoundTake.h"

#include <map>
#include <memory>
#include <string>
#include <tuple>

namespace valveladder::testing {

/// What sounds after a note is let go: as the font has it, or, of the first of two articulations on one
/// pitch, down to silence in the gap that the plan has before the second one.
enum class Tails { ofTheFont, silentBeforeSecondArticulations };

/// Renders plans with a packaged soundfont (FluidSynth). General MIDI programs: trumpet 56, trombone 57, tuba
/// 58, horn 60 (General MIDI level 1, numbered from 0).
class SoundFontPlayer {
public:
    static constexpr double rate = 44100.0;

    /// Throws std::runtime_error when the font cannot be read.
    SoundFontPlayer(const std::string& fontPath, int gmProgram);
    ~SoundFontPlayer();

    [[nodiscard]] SoundTake render(const SoundPlan& plan, Tails tails = Tails::ofTheFont);

private:
    struct Engine;
    [[nodiscard]] double onsetLag(int midi, int velocity, double length);

    std::unique_ptr<Engine> engine;
    std::map<std::tuple<int, int, int>, double> lags; ///< key, velocity, length in 10 ms
};

/// Paths of the fonts found by the build; empty when the package is absent.
[[nodiscard]] std::string largeFont();
[[nodiscard]] std::string smallFont();

} // namespace valveladder::testing
