#pragma once

#include <juce_events/juce_events.h>

// JUCE declares it in its own sources only.
namespace juce {
#if JUCE_MAJOR_VERSION >= 8
namespace detail {
#endif
bool dispatchNextMessageOnSystemQueue(bool returnIfNoPendingMessages);
#if JUCE_MAJOR_VERSION >= 8
}
using detail::dispatchNextMessageOnSystemQueue;
#endif
} // namespace juce
