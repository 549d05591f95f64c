#include "Guide/ClockOut.h"

#include <algorithm>
#include <cmath>

namespace valveladder {

namespace {

constexpr std::int64_t pulsesPerQuarter = 24;
constexpr std::int64_t pulsesPerSixteenth = 6;
constexpr std::int64_t maxSongPosition = 0x3FFF;

constexpr std::uint8_t songPosition = 0xF2;
constexpr std::uint8_t timingClock = 0xF8;
constexpr std::uint8_t start = 0xFA;
constexpr std::uint8_t continuing = 0xFB;
constexpr std::uint8_t stopping = 0xFC;

double quarterOf(std::int64_t pulse) {
    return static_cast<double>(pulse) / pulsesPerQuarter;
}

void addSongPosition(std::int64_t sixteenths, int sample, BlockEvents& events) {
    if (sixteenths <= maxSongPosition)
        events.add(sample, {songPosition, static_cast<std::uint8_t>(sixteenths & 0x7F),
                            static_cast<std::uint8_t>(sixteenths >> 7)});
}

} // namespace

void ClockOut::locate(const BlockTime& time, int firstSample, BlockEvents& events) noexcept {
    stop(firstSample, events);
    next = static_cast<std::int64_t>(std::floor(time.ppq * pulsesPerQuarter));
    while (time.offsetOf(quarterOf(next)) < 0)
        ++next;
    const std::int64_t sixteenths =
        (std::max<std::int64_t>(next, 0) + pulsesPerSixteenth - 1) / pulsesPerSixteenth;
    startsAt = sixteenths * pulsesPerSixteenth;
    if (sixteenths > 0)
        addSongPosition(sixteenths, firstSample, events);
}

void ClockOut::stop(int sample, BlockEvents& events) noexcept {
    if (running)
        events.add(sample, {stopping, 0, 0}, 1);
    running = false;
}

std::int64_t ClockOut::nextOffset(const BlockTime& time) const noexcept {
    return time.offsetOf(quarterOf(next));
}

void ClockOut::pulse(int sample, BlockEvents& events) noexcept {
    if (!running && next >= startsAt) {
        events.add(sample, {startsAt == 0 ? start : continuing, 0, 0}, 1);
        running = true;
    }
    events.add(sample, {timingClock, 0, 0}, 1);
    ++next;
}

} // namespace valveladder
