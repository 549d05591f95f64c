#include "View/DrillFields.h"

#include "Base/Number.h"
#include "View/Words.h"

#include <algorithm>
#include <string_view>

namespace valveladder {

std::vector<Segment> usualSegments(const Rhythm& dotted) {
    std::vector<Segment> segments = defaultSegments();
    segments[1].rhythm = dotted;
    segments[2].rhythm.shares.assign(dotted.shares.rbegin(), dotted.shares.rend());
    return segments;
}

Rhythm dottedRhythm(const std::vector<Segment>& segments) {
    for (const Segment& segment : segments)
        if (const auto& shares = segment.rhythm.shares; shares.size() == 2 && shares[0] != shares[1])
            return shares[0] > shares[1] ? segment.rhythm : Rhythm{{shares[1], shares[0]}};
    return Rhythm::longShort();
}

SegmentOrder orderOf(const std::vector<Segment>& segments, const Rhythm& dotted) {
    SegmentOrder order;
    const std::vector<Segment> usual = usualSegments(dotted);
    for (const Segment& segment : segments) {
        const auto known = std::find(usual.begin(), usual.end(), segment);
        auto number = static_cast<std::size_t>(known - usual.begin()) + 1;
        if (known == usual.end()) {
            const auto seen = std::find(order.own.begin(), order.own.end(), segment);
            number += static_cast<std::size_t>(seen - order.own.begin());
            if (seen == order.own.end())
                order.own.push_back(segment);
        }
        order.line += (order.line.empty() ? "" : " ") + std::to_string(number);
    }
    return order;
}

Result<std::vector<Segment>> segmentsFrom(const std::string& line, const Rhythm& dotted,
                                          const std::vector<Segment>& own) {
    std::vector<Segment> known = usualSegments(dotted);
    known.insert(known.end(), own.begin(), own.end());
    std::vector<Segment> segments;
    std::string_view rest = line;
    while (const auto number = takeInteger(rest)) {
        if (*number < 1 || *number > static_cast<int>(known.size()))
            return Problem{words::noSegment(*number), words::segmentsWhere,
                           words::segmentsUpTo(known.size())};
        segments.push_back(known[static_cast<std::size_t>(*number - 1)]);
    }
    if (rest.find_first_not_of(" \t") != std::string_view::npos || segments.empty())
        return Problem{words::segmentsRule, words::segmentsWhere, words::segmentsExample};
    return segments;
}

} // namespace valveladder
