#pragma once

#include "Listening/Performance.h"

#include <string>
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

/// "3 after 2 by 31 ms": of one change; empty where nothing is told of it or its fingers moved together.
/// `thumbValve` writes T for valve 4.
[[nodiscard]] std::string fingersApartInWords(const ChangeResult& change, bool thumbValve = false);

/// "3 after 2 by 31 ms in 1-2 to 2-3 (4 of 12)".
[[nodiscard]] std::string inWords(const FingersApart& apart, bool thumbValve = false);

} // namespace valveladder
