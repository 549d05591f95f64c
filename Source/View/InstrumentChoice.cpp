#include "View/InstrumentChoice.h"

#include <algorithm>
#include <string_view>
#include <utility>

namespace valveladder {

namespace {

/// Families by how their ids begin, which is also the order of trying.
constexpr std::array<std::pair<std::string_view, const char*>, 8> families{{{"trumpet", "Trumpet"},
                                                                            {"cornet", "Cornet"},
                                                                            {"flugelhorn", "Flugelhorn"},
                                                                            {"alto-horn", "Alto horn"},
                                                                            {"horn", "Horn"},
                                                                            {"baritone", "Baritone"},
                                                                            {"euphonium", "Euphonium"},
                                                                            {"tuba", "Tuba"}}};

std::string familyOf(const Instrument& instrument) {
    for (const auto& [start, name] : families)
        if (std::string_view(instrument.id).starts_with(start))
            return name;
    return instrument.name;
}

/// "in B flat" of "Cornet in B flat"; "double, in F and B flat" of the double horn; "" where none is named.
std::string pitchOf(const Instrument& instrument) {
    const std::string first = instrument.name.substr(0, instrument.name.find(','));
    const auto at = first.find(" in ");
    if (at == std::string::npos)
        return "";
    return (instrument.thumbValve ? "double, " : "") + first.substr(at + 1);
}

std::string valvesOf(const Instrument& instrument) {
    if (instrument.thumbValve)
        return "three valves, thumb";
    std::string text = instrument.valves == 4 ? "four valves" : "three valves";
    return instrument.compensation == Compensation::none ? text : text + ", compensating";
}

bool sameBefore(const InstrumentFacets& a, const InstrumentFacets& b, std::size_t facet) {
    return std::equal(a.begin(), a.begin() + static_cast<std::ptrdiff_t>(facet), b.begin());
}

} // namespace

InstrumentFacets facetsOf(const Instrument& instrument) {
    return {familyOf(instrument), pitchOf(instrument), valvesOf(instrument),
            instrument.clef == Clef::treble ? "treble clef" : "bass clef"};
}

std::vector<std::string> facetChoices(const InstrumentFacets& chosen, std::size_t facet) {
    std::vector<std::string> choices;
    for (const Instrument& instrument : catalogue()) {
        const InstrumentFacets facets = facetsOf(instrument);
        if (sameBefore(facets, chosen, facet) &&
            std::find(choices.begin(), choices.end(), facets[facet]) == choices.end())
            choices.push_back(facets[facet]);
    }
    return choices;
}

const Instrument& narrowed(const InstrumentFacets& chosen, std::size_t facet, const std::string& value) {
    const Instrument* best = &catalogue().front();
    int bestKept = -1;
    for (const Instrument& instrument : catalogue()) {
        const InstrumentFacets facets = facetsOf(instrument);
        if (!sameBefore(facets, chosen, facet) || facets[facet] != value)
            continue;
        int kept = 0;
        for (std::size_t later = facet + 1; later < facetCount; ++later)
            kept += facets[later] == chosen[later] ? 1 : 0;
        if (kept > bestKept) {
            best = &instrument;
            bestKept = kept;
        }
    }
    return *best;
}

} // namespace valveladder
