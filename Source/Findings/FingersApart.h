#pragma once

#include "Listening/Performance.h"

#include <vector>

namespace valveladder {

/// Fingers that move less far apart than this move together. Our choice: about what sound can tell, and no
/// more than a key's own travel (10 to 16 ms, Almeida, Chow, Smith and Wolfe, arXiv:0903.4012).
inline constexpr double togetherMs = 15.0;

/// How often and by how much some fingers came after the others in one change of valves.
struct FingersApart {
    Change change;
    Combination early;
    Combination late;
    double medianMs = 0.0;
    int count = 0; ///< so many times by togetherMs or more
    int of = 0;    ///< of so many changes measured

    bool operator==(const FingersApart&) const = default;
};

/// Of a take, the most lost time (count times median) first.
[[nodiscard]] std::vector<FingersApart> fingersApart(const Performance& performance);

/// Whether fingers are told to have moved apart in this change.
[[nodiscard]] bool cameApart(const ChangeResult& change);
/// The fingers told to have come after the others in this change; none where they are not told apart.
[[nodiscard]] Combination cameLate(const ChangeResult& change);

} // namespace valveladder
