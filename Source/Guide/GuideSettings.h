#pragma once

namespace valveladder {

enum class ClickWhen { off, countInOnly, always };

/// Which parts the guide sends. Plain values, copied per block.
struct GuideSettings {
    bool notes = true;
    bool soundingPitch = true; ///< false: written pitch
    ClickWhen click = ClickWhen::always;
    bool valveLanes = true; ///< on the note channel
    bool midiClock = false;
    int noteChannel = 1;   ///< 1..16
    int clickChannel = 10; ///< 1..16
    int clickHigh = 76;    ///< GM percussion: high wood block
    int clickLow = 77;     ///< low wood block
    double startPpq = 0.0; ///< host position at which the score's tick 0 lies
    bool repeat = true;    ///< the drill follows itself, each pass a lap

    bool operator==(const GuideSettings&) const = default;
};

/// The settings with channels and keys brought into MIDI's range, and an unusable start put at 0.
[[nodiscard]] GuideSettings tidied(GuideSettings settings) noexcept;

} // namespace valveladder
