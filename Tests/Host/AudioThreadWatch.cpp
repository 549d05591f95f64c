#include "Host/AudioThreadWatch.h"

#if VALVE_LADDER_INTERCEPT

#include <atomic>
#include <cerrno>
#include <cstdarg>
#include <cstddef>
#include <dlfcn.h>
#include <pthread.h>
#include <semaphore.h>
#include <sys/types.h>
#include <time.h>

// The executable's own definitions come before those of the C library for every shared library in the
// process, so what is called below our code is seen as well.

namespace {

// Plain thread-locals of an executable: reading them neither allocates nor locks.
thread_local bool watching = false;
thread_local valveladder::host::Offences counted;

template <typename Function>
Function* next(const char* name) {
    return reinterpret_cast<Function*>(dlsym(RTLD_NEXT, name));
}

void count(int valveladder::host::Offences::*kind) {
    if (watching)
        ++(counted.*kind);
}

using Offences = valveladder::host::Offences;

} // namespace

extern "C" {

void* __libc_malloc(std::size_t size);
void* __libc_calloc(std::size_t items, std::size_t size);
void* __libc_realloc(void* memory, std::size_t size);
void* __libc_memalign(std::size_t alignment, std::size_t size);
void __libc_free(void* memory);

__attribute__((visibility("default"))) void* malloc(std::size_t size) noexcept {
    count(&Offences::allocations);
    return __libc_malloc(size);
}
__attribute__((visibility("default"))) void* calloc(std::size_t items, std::size_t size) noexcept {
    count(&Offences::allocations);
    return __libc_calloc(items, size);
}
__attribute__((visibility("default"))) void* realloc(void* memory, std::size_t size) noexcept {
    count(&Offences::allocations);
    return __libc_realloc(memory, size);
}
__attribute__((visibility("default"))) void* memalign(std::size_t alignment, std::size_t size) noexcept {
    count(&Offences::allocations);
    return __libc_memalign(alignment, size);
}
__attribute__((visibility("default"))) void* aligned_alloc(std::size_t alignment, std::size_t size) noexcept {
    count(&Offences::allocations);
    return __libc_memalign(alignment, size);
}
__attribute__((visibility("default"))) int posix_memalign(void** memory, std::size_t alignment,
                                                          std::size_t size) noexcept {
    count(&Offences::allocations);
    *memory = __libc_memalign(alignment, size);
    return *memory == nullptr ? ENOMEM : 0;
}
__attribute__((visibility("default"))) void free(void* memory) noexcept {
    if (memory != nullptr)
        count(&Offences::frees);
    __libc_free(memory);
}

// One line for each call that is passed on as it came.
#define VALVE_LADDER_PASS_ON(kind, type, name, parameters, arguments)                                        \
    __attribute__((visibility("default"))) type name parameters {                                            \
        static const auto real = next<type parameters>(#name);                                               \
        count(&Offences::kind);                                                                              \
        return real arguments;                                                                               \
    }

VALVE_LADDER_PASS_ON(locks, int, pthread_rwlock_rdlock, (pthread_rwlock_t * lock) noexcept, (lock))
VALVE_LADDER_PASS_ON(locks, int, pthread_rwlock_wrlock, (pthread_rwlock_t * lock) noexcept, (lock))
VALVE_LADDER_PASS_ON(locks, int, pthread_cond_wait, (pthread_cond_t * condition, pthread_mutex_t* lock),
                     (condition, lock))
VALVE_LADDER_PASS_ON(locks, int, pthread_cond_signal, (pthread_cond_t * condition) noexcept, (condition))
VALVE_LADDER_PASS_ON(locks, int, pthread_cond_broadcast, (pthread_cond_t * condition) noexcept, (condition))
VALVE_LADDER_PASS_ON(locks, int, sem_wait, (sem_t * semaphore), (semaphore))
VALVE_LADDER_PASS_ON(locks, int, sem_post, (sem_t * semaphore) noexcept, (semaphore))
VALVE_LADDER_PASS_ON(files, ssize_t, write, (int file, const void* data, std::size_t size),
                     (file, data, size))
VALVE_LADDER_PASS_ON(files, ssize_t, read, (int file, void* data, std::size_t size), (file, data, size))
VALVE_LADDER_PASS_ON(sleeps, int, nanosleep, (const timespec* wanted, timespec* left), (wanted, left))
VALVE_LADDER_PASS_ON(sleeps, int, clock_nanosleep,
                     (clockid_t clock, int flags, const timespec* wanted, timespec* left),
                     (clock, flags, wanted, left))

#undef VALVE_LADDER_PASS_ON

// A function-local static needs a guard, and a guard may need a mutex: here the pointer is plain.
__attribute__((visibility("default"))) int pthread_mutex_lock(pthread_mutex_t* lock) noexcept {
    static std::atomic<int (*)(pthread_mutex_t*)> real{nullptr};
    if (real.load(std::memory_order_acquire) == nullptr)
        real.store(next<int(pthread_mutex_t*)>("pthread_mutex_lock"), std::memory_order_release);
    count(&Offences::locks);
    return real.load(std::memory_order_acquire)(lock);
}

#define VALVE_LADDER_PASS_ON_OPEN(name)                                                                      \
    __attribute__((visibility("default"))) int name(const char* path, int flags, ...) {                      \
        static const auto real = next<int(const char*, int, ...)>(#name);                                    \
        va_list rest;                                                                                        \
        va_start(rest, flags);                                                                               \
        const auto mode = va_arg(rest, unsigned);                                                            \
        va_end(rest);                                                                                        \
        count(&Offences::files);                                                                             \
        return real(path, flags, mode);                                                                      \
    }

VALVE_LADDER_PASS_ON_OPEN(open)
VALVE_LADDER_PASS_ON_OPEN(open64)

#undef VALVE_LADDER_PASS_ON_OPEN

} // extern "C"

namespace valveladder::host {

bool canWatch() {
    return true;
}

AudioThreadWatch::AudioThreadWatch() {
    counted = {};
    watching = true;
}

AudioThreadWatch::~AudioThreadWatch() {
    watching = false;
}

Offences AudioThreadWatch::offences() {
    return counted;
}

} // namespace valveladder::host

#else

namespace valveladder::host {

bool canWatch() {
    return false;
}

AudioThreadWatch::AudioThreadWatch() = default;
AudioThreadWatch::~AudioThreadWatch() = default;

Offences AudioThreadWatch::offences() {
    return {};
}

} // namespace valveladder::host

#endif
