#pragma once

#include <array>
#include <cstddef>
#include <cstdint>

namespace valveladder {

/// What can play behind the player, beside the click.
enum class BackingPart : std::uint8_t { drone, pad, bass, drums };
inline constexpr std::size_t backingPartCount = 4;

/// Which backing parts are sent, and on which channels (1..16), by BackingPart.
struct BackingChoice {
    std::array<bool, backingPartCount> on{};
    std::array<int, backingPartCount> channel{2, 3, 4, 10};

    [[nodiscard]] bool sends(BackingPart part) const noexcept { return on[static_cast<std::size_t>(part)]; }
    [[nodiscard]] int channelOf(BackingPart part) const noexcept {
        return channel[static_cast<std::size_t>(part)];
    }
    bool operator==(const BackingChoice&) const = default;
};

enum class ClickWhen { off, countInOnly, always };

/// Which parts the guide sends. Plain values, copied per block.
struct GuideSettings {
    bool notes = true;
    bool soundingPitch = true;  ///< false: written pitch
    bool startingPitch = false; ///< the first note's pitch in the count-in, on the note channel
    ClickWhen click = ClickWhen::always;
    bool valveLanes = true; ///< on the note channel
    bool midiClock = false;
    int noteChannel = 1;   ///< 1..16
    int clickChannel = 10; ///< 1..16
    int clickHigh = 76;    ///< GM percussion: high wood block
    int clickLow = 77;     ///< low wood block
    BackingChoice backing;
    double startPpq = 0.0; ///< host position at which the score's tick 0 lies
    bool repeat = true;    ///< the drill follows itself, each pass a lap

    bool operator==(const GuideSettings&) const = default;
};

/// The settings with channels and keys brought into MIDI's range, and an unusable start put at 0.
[[nodiscard]] GuideSettings tidied(GuideSettings settings) noexcept;

} // namespace valveladder
