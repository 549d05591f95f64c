#pragma once

namespace valveladder {

class Processor;

/// [message] The processor that JUCE's wrapper had made last on this thread; nullptr before the first. For
/// the LV2 entry, which JUCE's does not tell which one it made.
[[nodiscard]] Processor*& lastMadeHere() noexcept;

} // namespace valveladder
