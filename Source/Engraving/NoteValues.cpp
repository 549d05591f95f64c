#include "Engraving/NoteValues.h"

#include <array>
#include <numeric>

namespace valveladder {

namespace {

constexpr std::int64_t largestActual = 63; // beyond it no player reads the number as a rhythm

std::int64_t oddPart(std::int64_t value) {
    while (value % 2 == 0)
        value /= 2;
    return value;
}

} // namespace

Result<TimeRatio> tupletFor(std::int64_t unit, std::int64_t whole) {
    const std::int64_t common = std::gcd(unit, whole);
    const std::int64_t numerator = unit / common;
    const std::int64_t actual = oddPart(whole / common);
    if (actual > largestActual)
        return Problem{"a rhythm that needs " + std::to_string(actual) + " notes in a tuplet", "the rhythm",
                       "choose shares or a note value that divide the beat more simply"};
    if (actual == 1)
        return TimeRatio{};
    std::int64_t normal = oddPart(numerator);
    while (normal * 2 <= actual)
        normal *= 2;
    return TimeRatio{static_cast<int>(actual), static_cast<int>(normal)};
}

std::vector<NoteValue> noteValues(std::int64_t length, std::int64_t whole, TimeRatio ratio) {
    std::vector<NoteValue> values;
    if (length * ratio.actual % ratio.normal != 0)
        return values;
    std::int64_t rest = length * ratio.actual / ratio.normal;
    for (int power = 0; power <= shortestPower && rest > 0; ++power) {
        if (whole % (std::int64_t{1} << power) != 0)
            break;
        const std::int64_t plain = whole >> power;
        const auto take = [&](std::int64_t written, int dots) {
            while (rest >= written) {
                rest -= written;
                values.push_back({power, dots, written * ratio.normal / ratio.actual});
            }
        };
        if (plain % 2 == 0 && power < shortestPower)
            take(plain + plain / 2, 1);
        take(plain, 0);
    }
    if (rest > 0)
        values.clear();
    return values;
}

const char* noteTypeName(int power) {
    static constexpr std::array<const char*, shortestPower + 1> names{
        "whole", "half", "quarter", "eighth", "16th", "32nd", "64th", "128th", "256th", "512th", "1024th"};
    return names.at(static_cast<std::size_t>(power));
}

} // namespace valveladder
