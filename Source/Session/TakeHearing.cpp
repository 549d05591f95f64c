#include "Session/TakeHearing.h"

#include <algorithm>
#include <array>

namespace valveladder {

namespace {

/// Of the take's begin edge, from the first sample of its sound.
double takeBeganSeconds(const TakeHearing::Begin& begin) {
    return static_cast<double>(begin.takeSample - begin.firstSample) / begin.sampleRate;
}

SoundSettings listenerSettings(const TakeHearing::Begin& begin) {
    SoundSettings settings;
    settings.sampleRate = begin.sampleRate;
    settings.tempo = TempoMap(begin.bpm);
    settings.startSeconds = takeBeganSeconds(begin) - settings.tempo->secondsAt(begin.quartersFromTick0);
    settings.roundTripMs = begin.roundTripMs.value_or(0.0);
    return settings;
}

} // namespace

void SoundHistory::push(std::int64_t startSample, std::span<const float> sound, std::size_t keptSamples) {
    if (startSample != first + static_cast<std::int64_t>(samples.size()))
        samples.clear();
    const std::size_t dropped = samples.size() - std::min(samples.size(), keptSamples);
    samples.erase(samples.begin(), samples.begin() + static_cast<std::ptrdiff_t>(dropped));
    first = startSample - static_cast<std::int64_t>(samples.size());
    samples.insert(samples.end(), sound.begin(), sound.end());
}

TakeHearing::TakeHearing(std::shared_ptr<const SessionSetup> takeSetup, const Begin& takeBegin)
    : setup(std::move(takeSetup)), begin(takeBegin), listener(setup->score(), listenerSettings(begin)),
      next(begin.firstSample) {}

void TakeHearing::keep(const KeptSoundFolder& folder, const KeepSound& settings,
                       const KeptSound::Take& take) {
    file = std::make_unique<KeptSound>(folder, settings, take);
}

void TakeHearing::take(std::span<const float> sound) {
    listener.push(sound);
    if (file)
        file->write(sound);
    next += static_cast<std::int64_t>(sound.size());
}

void TakeHearing::push(std::int64_t startSample, std::span<const float> sound, std::size_t silenced) {
    constexpr std::array<float, 1024> silence{};
    missing += silenced;
    while (next < startSample) {
        const auto gap = std::min(startSample - next, static_cast<std::int64_t>(silence.size()));
        missing += static_cast<std::uint64_t>(gap);
        take(std::span(silence).first(static_cast<std::size_t>(gap)));
    }
    const auto known = static_cast<std::size_t>(next - startSample);
    if (known < sound.size())
        take(sound.subspan(known));
}

Performance TakeHearing::finish(const Capture::Heard& heard) {
    listener.settle(heard.tempo, takeBeganSeconds(begin) - heard.tempo.secondsAt(begin.quartersFromTick0),
                    heard.take.span);
    return listener.finish();
}

} // namespace valveladder
