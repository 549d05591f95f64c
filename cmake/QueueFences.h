#pragma once

// Included before every source that may use the lock-free queues in builds with the thread sanitizer. It does
// not see memory fences, by which the queues hand over what they hold, so it is told where they stand. The
// library does so itself for Clang only.
#include <cstddef>

extern "C" void AnnotateHappensBefore(const char* file, int line, std::size_t address);
extern "C" void AnnotateHappensAfter(const char* file, int line, std::size_t address);

namespace valveladder {
inline int queueFence;
}

#define AE_TSAN_ANNOTATE_RELEASE() \
    AnnotateHappensBefore(__FILE__, __LINE__, reinterpret_cast<std::size_t>(&::valveladder::queueFence))
#define AE_TSAN_ANNOTATE_ACQUIRE() \
    AnnotateHappensAfter(__FILE__, __LINE__, reinterpret_cast<std::size_t>(&::valveladder::queueFence))
