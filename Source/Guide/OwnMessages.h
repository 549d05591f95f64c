#pragma once

#include "Guide/GuideSettings.h"
#include "Guide/MidiEvent.h"

namespace valveladder {

/// The percussion channel of General MIDI: no brass player is on it.
inline constexpr int percussionChannel = 10;

/// Whether a note is the click's, by channel and key: what we send comes back where a host or cable returns
/// it.
[[nodiscard]] bool isClick(const MidiEvent& event, const GuideSettings& settings) noexcept;

/// Whether a message that came in cannot be the player's, by channel and key alone: the click and what else
/// is on its channel, the percussion channel, and those of the backing that is sent. Where the player's
/// channel is named (`listenChannel` 1..16, 0 = any), only the click's keys are. The guide's own notes may
/// share the player's channel, so they are told by what they do: see Listening/GuideEcho.h.
[[nodiscard]] bool isNotThePlayers(const MidiEvent& event, const GuideSettings& settings,
                                   int listenChannel) noexcept;

} // namespace valveladder
