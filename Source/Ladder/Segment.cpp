#include "Ladder/Segment.h"

#include <algorithm>
#include <functional>

namespace valveladder {

bool Rhythm::isEven() const {
    return std::adjacent_find(shares.begin(), shares.end(), std::not_equal_to<>()) == shares.end();
}

double Rhythm::ratio() const {
    const auto [shortest, longest] = std::minmax_element(shares.begin(), shares.end());
    return shares.empty() ? 1.0 : static_cast<double>(*longest) / *shortest;
}

std::vector<Segment> defaultSegments() {
    return {{"Even, firm", Rhythm::even(), Touch::firm, {AccentRule::firstOfGroup, 4}, true},
            {"Long-short, firm", Rhythm::longShort(), Touch::firm, {AccentRule::longNotes, 2}, true},
            {"Short-long, firm", Rhythm::shortLong(), Touch::firm, {AccentRule::longNotes, 2}, true},
            {"Even, relaxed", Rhythm::even(), Touch::relaxed, {AccentRule::none, 4}, true}};
}

} // namespace valveladder
