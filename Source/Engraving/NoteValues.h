#pragma once

#include "Base/Problem.h"

#include <cstdint>
#include <vector>

namespace valveladder {

/// `actual` notes in the time of `normal`, as a tuplet says it; 1:1 for none.
struct TimeRatio {
    int actual = 1;
    int normal = 1;

    [[nodiscard]] bool isTuplet() const { return actual != normal; }
    bool operator==(const TimeRatio&) const = default;
};

/// A note value as it is engraved: 2^-power of a whole note (0 whole, 2 quarter, 3 eighth ...), with dots.
struct NoteValue {
    int power = 2;
    int dots = 0;
    std::int64_t length = 0; ///< time taken, tuplet applied, in the caller's units

    bool operator==(const NoteValue&) const = default;
};

inline constexpr int shortestPower = 10; ///< 1024th, the shortest that MusicXML names

/// The tuplet that makes multiples of `unit` writable, where `whole` is a whole note: actual is the odd
/// factor that unit needs, normal the largest number below it that leaves a power of two ("three in the time
/// of two"). Refused where the unit is too odd or too short for notation.
[[nodiscard]] Result<TimeRatio> tupletFor(std::int64_t unit, std::int64_t whole);

/// `length` as values to be tied, longest first, at most one dot each; empty when it cannot be written.
[[nodiscard]] std::vector<NoteValue> noteValues(std::int64_t length, std::int64_t whole, TimeRatio ratio);

/// MusicXML's name of 2^-power of a whole note: "whole", "quarter", "eighth", "16th" ...
[[nodiscard]] const char* noteTypeName(int power);

} // namespace valveladder
