#include "Plugin/ClickSound.h"

#include "Session/RoundTrip.h"

namespace valveladder {

std::int64_t ClickSound::follow(std::int64_t startSample, double sampleRate) noexcept {
    const bool sounding = series >= 0;
    const bool over =
        sounding && (sampleRate != rate || startSample - series >= RoundTripClicks::length(rate));
    if (over)
        stop();
    if (!wanted.load(std::memory_order_acquire)) {
        series = -1;
        return -1;
    }
    if (!sounding) {
        series = startSample;
        rate = sampleRate;
    }
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
