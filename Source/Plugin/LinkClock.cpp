#include "Plugin/LinkClock.h"

#include "Plugin/CallbackTime.h"

#include <ableton/Link.hpp>

#include <atomic>
#include <chrono>
#include <cmath>

namespace valveladder {

namespace {

constexpr double tempoBeforeAnyPlan = 60.0;

} // namespace

struct LinkClock::Impl {
    /// Made when first asked for, since it brings a thread and sockets that a mere scan of the plugin need
    /// not have.
    std::unique_ptr<ableton::Link> link;
    std::atomic<bool> on{false};
    NowMicros now = nullptr;
    // [audio]
    CallbackTime times;
    bool running = false;
    double beatAtStart = 0.0; ///< Link beat that is startPpq
};

LinkClock::LinkClock(NowMicros now) : impl(std::make_unique<Impl>()) {
    impl->now = now;
}

std::int64_t LinkClock::systemMicros() noexcept {
    return ableton::link::platform::Clock{}.micros().count();
}

LinkClock::~LinkClock() = default;

void LinkClock::enable(bool on) {
    if (on == enabled())
        return;
    if (impl->link == nullptr)
        impl->link = std::make_unique<ableton::Link>(tempoBeforeAnyPlan);
    impl->link->enable(on);
    impl->on.store(on, std::memory_order_release);
}

bool LinkClock::enabled() const noexcept {
    return impl->on.load(std::memory_order_acquire);
}

std::size_t LinkClock::others() const {
    return impl->link != nullptr ? impl->link->numPeers() : 0;
}

void LinkClock::propose(double bpm) {
    if (!enabled())
        return;
    auto state = impl->link->captureAppSessionState();
    state.setTempo(bpm, impl->link->clock().micros());
    impl->link->commitAppSessionState(state);
}

void LinkClock::stop() noexcept {
    impl->running = false;
    impl->times.reset();
}

HostBlock LinkClock::lead(HostBlock block, double startPpq, double barQuarters) noexcept {
    const double bar = barQuarters > 0.0 ? barQuarters : 4.0;
    const double rate = block.sampleRate > 0.0 ? block.sampleRate : 48000.0;
    const std::chrono::microseconds time{impl->times.block(block.samples, rate, impl->now())};
    const auto state = impl->link->captureAudioSessionState();
    const double beat = state.beatAtTime(time, bar);
    if (!impl->running) {
        // The first bar line that is not already past.
        impl->beatAtStart = std::ceil(beat / bar) * bar;
        impl->running = true;
    }
    block.playing = true;
    block.recording = true; // a run of a clock without a host counts as a recording pass
    block.looping = false;
    block.sampleRate = rate;
    block.bpm = state.tempo();
    block.ppq = startPpq + beat - impl->beatAtStart;
    return block;
}

} // namespace valveladder
