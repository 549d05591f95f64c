#include "Plugin/MeterMap.h"

#include "Tempo/SampleTime.h"

#include <algorithm>
#include <cmath>

namespace valveladder {

namespace {

bool same(double a, double b) {
    return std::abs(a - b) <= positionSlackQuarters;
}

} // namespace

std::size_t MeterMap::upTo(std::int64_t bar) const noexcept {
    const auto end = stretches.begin() + static_cast<std::ptrdiff_t>(count);
    const auto after =
        std::upper_bound(stretches.begin(), end, bar,
                         [](std::int64_t b, const Stretch& stretch) { return b < stretch.first; });
    return after == stretches.begin() ? count : static_cast<std::size_t>(after - stretches.begin()) - 1;
}

MeterMap::Place MeterMap::find(std::int64_t bar, double barQuarters) const noexcept {
    const double ifOneMeter = static_cast<double>(bar) * barQuarters;
    if (bar <= 0)
        return {ifOneMeter, Known::surely};
    const std::size_t index = upTo(bar);
    if (index == count)
        return {ifOneMeter, Known::counted};
    const Stretch& stretch = stretches[index];
    const bool sameMeter = same(stretch.barQuarters, barQuarters);
    const std::int64_t next = stretch.last + 1;
    if (bar == next || (sameMeter && bar < next))
        return {stretch.startOf(bar), stretch.place.known};
    if (bar < next) // the session was edited
        return {stretch.startOf(bar), Known::guessed};
    const double start = stretch.startOf(next) + static_cast<double>(bar - next) * barQuarters;
    return {start, sameMeter ? std::max(stretch.place.known, Known::counted) : Known::guessed};
}

MeterMap::Place MeterMap::follow(std::int64_t before, std::int64_t bar) const noexcept {
    const std::size_t index = upTo(before);
    if (index == count)
        return {0.0, Known::guessed};
    return {stretches[index].startOf(bar), stretches[index].place.known};
}

bool MeterMap::fits(std::size_t index, std::int64_t bar, double barQuarters, double start) const noexcept {
    const Stretch& stretch = stretches[index];
    return bar <= stretch.last + 1 && same(stretch.barQuarters, barQuarters) &&
           same(stretch.startOf(bar), start);
}

void MeterMap::learn(std::int64_t bar, double barQuarters, Place place) noexcept {
    const std::size_t index = upTo(bar);
    if (index == count)
        return insert(0, {bar, bar, barQuarters, place});
    Stretch& stretch = stretches[index];
    if (fits(index, bar, barQuarters, place.start)) {
        stretch.last = std::max(stretch.last, bar);
        if (bar == stretch.first)
            stretch.place.known = std::min(stretch.place.known, place.known);
        return;
    }
    if (bar <= stretch.last)
        forgetFrom(bar);
    insert(upTo(bar) == count ? 0 : upTo(bar) + 1, {bar, bar, barQuarters, place});
}

void MeterMap::forgetFrom(std::int64_t bar) noexcept {
    while (count > 0 && stretches[count - 1].first >= bar)
        --count;
    if (count > 0)
        stretches[count - 1].last = std::min(stretches[count - 1].last, bar - 1);
}

void MeterMap::insert(std::size_t index, const Stretch& stretch) noexcept {
    if (count == capacity)
        count = index = 0;
    const auto at = stretches.begin() + static_cast<std::ptrdiff_t>(index);
    std::move_backward(at, stretches.begin() + static_cast<std::ptrdiff_t>(count),
                       stretches.begin() + static_cast<std::ptrdiff_t>(count) + 1);
    *at = stretch;
    ++count;
}

} // namespace valveladder
