#pragma once

#include <juce_core/juce_core.h>

namespace valveladder {

/// Seconds since some moment, by a clock that nobody sets: only differences mean something.
[[nodiscard]] inline double steadySeconds() {
    return juce::Time::getMillisecondCounterHiRes() / 1000.0;
}

} // namespace valveladder
