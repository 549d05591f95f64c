#include "KeptSound/KeptSoundPlace.h"

#include "Base/Number.h"
#include "Tempo/SampleTime.h"

#include <cmath>
#include <fmt/format.h>

namespace valveladder {

namespace {

constexpr const char* before = "The take begins ";
constexpr const char* afterSeconds = " s into this file, quarter ";
constexpr const char* afterQuarters = " of the drill, at ";
/// No take is that long, nor a drill.
constexpr double mostSeconds = 1e6;

/// The number that stands between `from` and what follows it.
std::optional<double> numberAfter(const std::string& words, const char* from) {
    const auto at = words.find(from);
    if (at == std::string::npos)
        return std::nullopt;
    const auto value = leadingDecimal(std::string_view(words).substr(at + std::string_view(from).size()));
    return value && std::abs(*value) <= mostSeconds ? value : std::nullopt;
}

} // namespace

std::string toWords(const KeptSoundPlace& place) {
    return fmt::format("{}{:.6f}{}{:.6f}{}{:.6f} bpm", before, place.takeSeconds, afterSeconds,
                       place.takeQuarters, afterQuarters, place.bpm);
}

std::optional<KeptSoundPlace> keptSoundPlaceFrom(const std::string& words) {
    const auto seconds = numberAfter(words, before);
    const auto quarters = numberAfter(words, afterSeconds);
    const auto bpm = numberAfter(words, afterQuarters);
    if (!seconds || !quarters || !bpm || !usableBpm(*bpm))
        return std::nullopt;
    return KeptSoundPlace{*seconds, *quarters, *bpm};
}

} // namespace valveladder
