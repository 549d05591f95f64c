#include "Screen/SegmentStaff.h"

#include "Engraving/Spacing.h"

#include <algorithm>
#include <cmath>

namespace valveladder {

namespace {

constexpr double wholeDrill = 1.0e6; ///< quarters: no segment is cut
constexpr float smallestSpace = 4.0F;

std::optional<Page> pageOf(const Score& score, const SheetLayout& layout, int rung, int segment) {
    for (const Page& page : pagesOf(score, layout, wholeDrill)) {
        const auto first = static_cast<std::size_t>(page.firstNote);
        if (page.noteCount > 0 && first < score.notes.size() && score.notes[first].rung == rung &&
            score.notes[first].segment == segment)
            return page;
    }
    return std::nullopt;
}

/// Staff spaces that keep its notes clear of each other.
double widthWanted(const Score& score, const SheetLayout& layout, const Page& page) {
    const double quarters = static_cast<double>(page.end - page.start) / ticksPerQuarter;
    return headRoom(layout, page.firstBar) + tailRoom + quarters / quartersWithin(score, 1.0);
}

} // namespace

std::optional<SegmentStaff> segmentStaff(const Score& score, const Instrument& instrument, const Drill& drill,
                                         Spelling names, int rung, int segment, juce::Rectangle<float> room,
                                         float largestSpace) {
    const auto layout = layOut(score, drill, names);
    if (!layout || room.isEmpty())
        return std::nullopt;
    const auto page = pageOf(score, layout.value(), rung, segment);
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
    staff.music = engrave(score, instrument, layout.value(), *page,
                          static_cast<double>(room.getWidth()) / space, squeezedRest(score, *page));
    const float used = static_cast<float>((bottom - top) * space);
    staff.place.left = room.getX();
    staff.place.top = std::round(room.getY() + std::max(0.0F, (room.getHeight() - used) / 2) -
                                 static_cast<float>(top * space));
    staff.foot = staff.place.y(bottom);
    return staff;
}

} // namespace valveladder
