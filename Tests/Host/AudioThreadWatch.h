#pragma once

namespace valveladder::host {

/// What must not happen on the audio thread, counted.
struct Offences {
    int allocations = 0; ///< malloc, calloc, realloc, aligned forms, and so every new
    int frees = 0;
    int locks = 0; ///< mutexes, read-write locks, condition variables, semaphores
    int files = 0; ///< open, read, write, and their kin
    int sleeps = 0;

    [[nodiscard]] int all() const { return allocations + frees + locks + files + sleeps; }
    Offences& operator+=(const Offences& more) {
        allocations += more.allocations;
        frees += more.frees;
        locks += more.locks;
        files += more.files;
        sleeps += more.sleeps;
        return *this;
    }
};

/// True where the calls are intercepted: Linux with glibc, no sanitizer (which intercept them themselves).
[[nodiscard]] bool canWatch();

/// While one lives, offences of its thread are counted. Not nested.
class AudioThreadWatch {
public:
    AudioThreadWatch();
    ~AudioThreadWatch();
    AudioThreadWatch(const AudioThreadWatch&) = delete;
    AudioThreadWatch& operator=(const AudioThreadWatch&) = delete;

    [[nodiscard]] static Offences offences();
};

} // namespace valveladder::host
