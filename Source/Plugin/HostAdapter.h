#pragma once

#include "Guide/HostBlock.h"

#include <juce_audio_processors/juce_audio_processors.h>

namespace valveladder {

/// [audio] What the host's play head says about a block that begins now: the only place that knows the host's
/// own format. Values that are not finite, or a tempo, meter or loop of zero or less, are left out.
[[nodiscard]] HostBlock hostBlock(const juce::AudioPlayHead* playHead, double sampleRate,
                                  int samples) noexcept;

} // namespace valveladder
