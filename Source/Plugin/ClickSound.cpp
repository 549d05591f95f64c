#include "Plugin/ClickSound.h"

#include "Session/RoundTrip.h"

namespace valveladder {

std::int64_t ClickSound::follow(std::int64_t startSample, double sampleRate) noexcept {
    std::uint32_t now = wanted.load(std::memory_order_acquire);
    if (now != none && now != sounding) {
        series = startSample;
        rate = sampleRate;
    } else if (now != none && (sampleRate != rate || startSample - series >= RoundTripClicks::length(rate))) {
        wanted.compare_exchange_strong(now, none); // unless another series is wanted already
        now = none;
    }
    sounding = now;
    if (now == none)
        series = -1;
    block = startSample;
    return series;
}

void ClickSound::render(float* const* channels, int channelCount, int samples) const noexcept {
    if (series < 0)
        return;
    for (int i = 0; i < samples; ++i) {
        const float value = RoundTripClicks::at(block - series + i, rate);
        for (int channel = 0; channel < channelCount; ++channel)
            channels[channel][i] = value;
    }
}

} // namespace valveladder
