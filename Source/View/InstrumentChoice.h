#pragma once

#include "Valves/Instrument.h"

#include <array>
#include <string>
#include <vector>

namespace valveladder {

/// An instrument of the catalogue is chosen by narrowing: its family, its pitch, its valves, its clef.
inline constexpr std::size_t facetCount = 4;
using InstrumentFacets =
    std::array<std::string, facetCount>; ///< "Tuba", "in E flat", "three valves", "bass clef"

[[nodiscard]] InstrumentFacets facetsOf(const Instrument& instrument);

/// What a facet can be, once those before it are as in `chosen`; in the catalogue's order.
[[nodiscard]] std::vector<std::string> facetChoices(const InstrumentFacets& chosen, std::size_t facet);

/// The instrument whose facets before `facet` are those of `chosen`, whose `facet` is `value`, and which
/// keeps as much of the rest as there is. Precondition: `value` is one of facetChoices().
[[nodiscard]] const Instrument& narrowed(const InstrumentFacets& chosen, std::size_t facet,
                                         const std::string& value);

} // namespace valveladder
