#pragma once

#include "Guide/HostBlock.h"

#include <juce_audio_processors/juce_audio_processors.h>

namespace valveladder {

/// [audio] What the host's play head says about a block that begins now: the only place that knows the host's
/// own format. A host without a play head, or one that gives no position, yields a block with empty fields;
/// values that are not finite, or a tempo or meter of zero or less, are left out.
[[nodiscard]] HostBlock hostBlock(const juce::AudioPlayHead* playHead, double sampleRate, int samples) noexcept;

} // namespace valveladder
