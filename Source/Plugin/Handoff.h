#pragma once

#include <readerwriterqueue/readerwriterqueue.h>

#include <atomic>
#include <cstddef>
#include <memory>

namespace valveladder {

/// Gives immutable objects to the audio thread and takes the old ones back, so that none is freed there.
/// One thread publishes and collects, one (the audio thread) reads. Neither waits.
template <typename T>
class Handoff {
public:
    Handoff() = default;
    Handoff(const Handoff&) = delete;
    Handoff& operator=(const Handoff&) = delete;
    /// Neither thread may be inside a call any more.
    ~Handoff() {
        collect();
        delete incoming.load();
        delete active;
    }

    /// [publisher] The audio thread sees `object` from its next current() on. An object that it has not seen
    /// yet is replaced.
    void publish(std::unique_ptr<const T> object) {
        collect();
        delete incoming.exchange(object.release(), std::memory_order_acq_rel);
    }

    /// [publisher] Frees what the audio thread no longer uses.
    void collect() {
        const T* old = nullptr;
        while (retired.try_dequeue(old))
            delete old;
    }

    /// [audio] The newest object, valid until the next call; nullptr before the first publish().
    const T* current() noexcept {
        // A full return queue (the publisher has not collected) keeps the old object in use a little longer.
        if (retired.size_approx() >= slots)
            return active;
        if (const T* next = incoming.exchange(nullptr, std::memory_order_acq_rel)) {
            if (active != nullptr)
                retired.try_enqueue(active);
            active = next;
        }
        return active;
    }

private:
    static constexpr std::size_t slots = 15;
    std::atomic<const T*> incoming{nullptr};
    const T* active = nullptr;
    moodycamel::ReaderWriterQueue<const T*> retired{slots};
};

} // namespace valveladder
