#pragma once

#include "Guide/Guide.h"
#include "Sound/OwnSoundSettings.h"
#include "Sound/Voice.h"

#include <array>
#include <cstddef>
#include <span>

namespace valveladder {

/// The guide made audible: click, tone and backing, synthesised. Plays the same cues at the same samples as
/// the guide's MIDI, by a Guide of its own, so that what is heard and what is sent are chosen apart. What
/// comes out stays below full scale, and is zero where it is off or nothing sounds. [audio]
class OwnSound {
public:
    /// What is heard in the block; of `guide` only what is no matter of MIDI counts: when the click comes,
    /// which backing, where the drill starts and whether it repeats. As Guide::process() otherwise.
    void follow(const HostBlock& block, const GuideTrack* track, const GuideSettings& guide,
                const OwnSoundSettings& settings) noexcept;
    /// Adds the block that follow() was told of to every channel.
    void render(float* const* channels, int channelCount, int samples) noexcept;

private:
    enum Part : std::uint8_t { clickPart, tonePart, backingPart, partCount };
    struct Player {
        Voice voice;
        Part part = clickPart;
        int key = 0;     ///< MIDI note that began it
        int channel = 0; ///< 1..16
    };
    /// A gain on its way to where it is wanted, so that no change of it is a step.
    struct Gain {
        double now = 0.0;
        double wanted = 0.0;
    };
    static constexpr std::size_t playerCount = 48;

    void setGains(const OwnSoundSettings& settings) noexcept;
    void start(const MidiEvent& event) noexcept;
    void end(const MidiEvent& event) noexcept;
    void renderPiece(std::span<double> mix) noexcept;
    void addPart(Part part, std::span<double> mix) noexcept;
    void silence() noexcept;
    [[nodiscard]] bool quiet() const noexcept;
    [[nodiscard]] Player& freePlayer() noexcept;

    Guide guide;
    std::span<const MidiEvent> events;
    std::array<Player, playerCount> players;
    std::array<Gain, partCount> gains;
    Gain all; ///< on or off
    double rate = 0.0;
};

} // namespace valveladder
