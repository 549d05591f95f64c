#include "Screen/SegmentStaff.h"

#include "Engraving/Spacing.h"

#include <algorithm>
#include <cmath>

namespace valveladder {

namespace {

constexpr float smallestSpace = 4.0F;

int barsOf(const Score& score, const ScoreSpan& span) {
    const auto bar = [&score](Tick tick) { return (tick - score.countInTicks) / score.meter.barTicks(); };
    return static_cast<int>(bar(span.end - 1) - bar(span.start)) + 1;
}

/// Quarters that a line of it holds: whole bars.
double quartersALine(const Score& score, const ScoreSpan& span, int lines) {
    const int bars = (barsOf(score, span) + lines - 1) / lines;
    return quartersOf(bars * score.meter.barTicks());
}

std::optional<Page> pageOf(const Score& score, const SheetLayout& layout, int rung, int segment,
                           const SegmentLine& line) {
    const auto span = std::ranges::find_if(score.spans, [rung, segment](const ScoreSpan& each) {
        return each.rung == rung && each.segment == segment;
    });
    if (span == score.spans.end())
        return std::nullopt;
    int number = 0;
    for (const Page& page : pagesOf(score, layout, quartersALine(score, *span, line.of)))
        if (page.span == span - score.spans.begin() && number++ == line.number)
            return page;
    return std::nullopt;
}

/// Staff spaces that keep its notes clear of each other.
double widthWanted(const Score& score, const SheetLayout& layout, const Page& page) {
    const double quarters = quartersOf(page.end - page.start);
    return headRoom(layout, page.firstBar) + tailRoom + quarters / quartersWithin(score, 1.0);
}

} // namespace

std::optional<SegmentStaff> segmentStaff(const Score& score, const Instrument& instrument, const Drill& drill,
                                         Spelling names, int rung, int segment, juce::Rectangle<float> room,
                                         float largestSpace, const SegmentLine& line) {
    const auto layout = layOut(score, drill, names);
    if (!layout || room.isEmpty())
        return std::nullopt;
    const auto page = pageOf(score, layout.value(), rung, segment, line);
    if (!page)
        return std::nullopt;
    const double wanted = widthWanted(score, layout.value(), *page);
    const Engraving measured = engrave(score, instrument, layout.value(), *page, wanted);
    const double top = std::min(0.0, measured.top) - 0.5;
    const double bottom = std::max(4.0, measured.bottom) + 0.5;
    SegmentStaff staff;
    staff.place.space =
        std::max(smallestSpace, std::min({largestSpace, room.getWidth() / static_cast<float>(wanted),
                                          room.getHeight() / static_cast<float>(bottom - top)}));
    const auto space = static_cast<double>(staff.place.space);
    const double width = static_cast<double>(room.getWidth()) / space;
    staff.music = engrave(score, instrument, layout.value(), *page, width,
                          clearSpacing(score, layout.value(), *page, width));
    const float used = static_cast<float>((bottom - top) * space);
    staff.place.left = room.getX();
    staff.place.top = std::round(room.getY() + std::max(0.0F, (room.getHeight() - used) / 2) -
                                 static_cast<float>(top * space));
    staff.foot = staff.place.y(bottom);
    return staff;
}

} // namespace valveladder
