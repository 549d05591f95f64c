#pragma once

#include "Listening/Performance.h"

#include <string>
#include <string_view>

namespace valveladder {

/// What findings read of a take (timeFields in Fields.h) in one piece of bytes beside the take's rows, which
/// stay the truth: findings in a log of a million notes would else wait for two million rows.

/// Notes, changes and segments; little-endian, figures as IEEE 754 doubles.
[[nodiscard]] std::string packTimes(const Performance& performance);

/// Fills notes, changes and segments of `performance`, whose other fields stay; of an estimate only its
/// value. False when the bytes are not what packTimes() of this version writes: read the rows then.
[[nodiscard]] bool unpackTimes(std::string_view bytes, Performance& performance);

} // namespace valveladder
