#include "Engraving/Beaming.h"

#include <algorithm>
#include <cmath>
#include <span>
#include <string>

namespace valveladder {

namespace {

// Staff spaces; an octave of stem and gently sloping beams are engraving practice (Gould, "Behind Bars",
// 2011, from memory).
constexpr double stemLength = 3.5;
constexpr double leastBeamedStem = 3.0;
constexpr double extraPerBeam = 0.4;  ///< from the third beam on
constexpr double steepestBeam = 1.25; ///< rise over a whole group
constexpr double slopeShare = 0.35;   ///< of the heads' own rise
constexpr double hookLength = 1.1;
constexpr double tupletGap = 0.6;
constexpr double beamStep = bravura::beam + bravura::beamGap;

using Group = std::span<StemmedHead>;

bool hasStem(const StemmedHead& head) {
    return head.head.power > 0;
}

double stemX(const StemmedHead& head) {
    const double half = bravura::headWidth / 2 - bravura::stem / 2;
    return head.head.x + (head.stemUp ? half : -half);
}

/// Where the stem leaves the head.
double stemFoot(const StemmedHead& head) {
    return head.head.y + (head.stemUp ? -bravura::stemAtHead : bravura::stemAtHead);
}

bool upFor(Group group) {
    const auto furthest = std::max_element(group.begin(), group.end(), [](const auto& a, const auto& b) {
        return std::abs(a.head.y - staffMiddle) < std::abs(b.head.y - staffMiddle);
    });
    return furthest->head.y > staffMiddle;
}

void addStem(Engraving& picture, const StemmedHead& head, double end) {
    const double foot = stemFoot(head);
    picture.stems.push_back({stemX(head), std::min(foot, end), std::max(foot, end), head.head.note});
}

/// Stems of notes far off the staff reach its middle line.
double loneStemEnd(const StemmedHead& head) {
    const double length = stemLength + std::max(0, head.head.power - 4) * beamStep;
    const double end = head.head.y + (head.stemUp ? -length : length);
    return head.stemUp ? std::min(end, staffMiddle) : std::max(end, staffMiddle);
}

void placeLone(StemmedHead& head, Engraving& picture) {
    head.stemUp = upFor({&head, 1});
    if (!hasStem(head))
        return;
    const double end = loneStemEnd(head);
    addStem(picture, head, end);
    if (head.head.power > 2) {
        const int flag = (head.head.power - 3) * 2 + (head.stemUp ? 0 : 1);
        picture.glyphs.push_back(
            {plus(Glyph::flag8thUp, flag), stemX(head) - bravura::stem / 2, end, head.head.note});
    }
}

/// The outer beam's line.
struct BeamLine {
    double x = 0.0;
    double y = 0.0;
    double slope = 0.0;

    [[nodiscard]] double at(double where) const { return y + slope * (where - x); }
};

BeamLine lineFor(Group group) {
    const StemmedHead& first = group.front();
    const StemmedHead& last = group.back();
    const double run = std::max(0.1, stemX(last) - stemX(first));
    const double rise = std::clamp((last.head.y - first.head.y) * slopeShare, -steepestBeam, steepestBeam);
    BeamLine line{stemX(first), 0.0, rise / run};
    const double away = first.stemUp ? -1.0 : 1.0;
    double furthest = -1e9;
    for (const StemmedHead& head : group) {
        const auto beams = static_cast<double>(head.head.beams.size());
        const double length = leastBeamedStem + std::max(0.0, beams - 2.0) * extraPerBeam;
        const double end = away * (head.head.y + away * length);
        const double wanted = std::max(end, away * staffMiddle);
        furthest = std::max(furthest, wanted - away * line.slope * (stemX(head) - line.x));
    }
    line.y = away * furthest;
    return line;
}

void placeBeams(Group group, const BeamLine& line, Engraving& picture) {
    const double inward = group.front().stemUp ? 1.0 : -1.0;
    const double half = bravura::stem / 2;
    const auto add = [&](double from, double to, int level) {
        const double shift = inward * (level - 1) * beamStep;
        picture.beams.push_back({from - half, line.at(from) + shift, to + half, line.at(to) + shift, level});
    };
    for (std::size_t level = 0; level < 8; ++level) {
        double begun = 0.0;
        for (const StemmedHead& head : group) {
            if (head.head.beams.size() <= level)
                continue;
            const double x = stemX(head);
            const int number = static_cast<int>(level) + 1;
            switch (head.head.beams[level]) {
            case BeamPart::begin:
                begun = x;
                break;
            case BeamPart::through:
                break;
            case BeamPart::end:
                add(begun, x, number);
                break;
            case BeamPart::forwardHook:
                add(x, x + hookLength, number);
                break;
            case BeamPart::backwardHook:
                add(x - hookLength, x, number);
                break;
            }
        }
    }
}

void placeGroup(Group group, Engraving& picture) {
    const bool up = upFor(group);
    for (StemmedHead& head : group)
        head.stemUp = up;
    const BeamLine line = lineFor(group);
    const double half = bravura::beam / 2 * (up ? -1.0 : 1.0);
    for (const StemmedHead& head : group)
        addStem(picture, head, line.at(stemX(head)) + half);
    placeBeams(group, line, picture);
}

/// The figure over the middle of a tuplet, on the stems' side.
void placeTuplet(Group group, Engraving& picture) {
    const StemmedHead& middle = group[group.size() / 2];
    double edge = middle.head.y;
    for (const StemmedHead& head : group)
        for (const PlacedStem& stem : picture.stems)
            if (stem.note == head.head.note)
                edge = middle.stemUp ? std::min(edge, stem.top) : std::max(edge, stem.bottom);
    const std::string digits = std::to_string(middle.symbol.ratio.actual);
    const double width = static_cast<double>(digits.size()) * bravura::tupletDigitWidth;
    const double centre = (group.front().head.x + group.back().head.x) / 2;
    const double y = middle.stemUp ? edge - tupletGap : edge + tupletGap + 1.5;
    for (std::size_t i = 0; i < digits.size(); ++i)
        picture.glyphs.push_back({plus(Glyph::tuplet0, digits[i] - '0'),
                                  centre - width / 2 + static_cast<double>(i) * bravura::tupletDigitWidth, y,
                                  middle.head.note});
}

void placeTuplets(std::vector<StemmedHead>& heads, Engraving& picture) {
    std::size_t begun = 0;
    for (std::size_t i = 0; i < heads.size(); ++i) {
        if (heads[i].symbol.tupletStart)
            begun = i;
        if (heads[i].symbol.tupletStop)
            placeTuplet({heads.data() + begun, i - begun + 1}, picture);
    }
}

} // namespace

void placeStems(std::vector<StemmedHead>& heads, Engraving& picture) {
    std::size_t from = 0;
    while (from < heads.size()) {
        std::size_t to = from;
        if (!heads[from].head.beams.empty())
            while (to + 1 < heads.size() && heads[to].head.beams.front() != BeamPart::end)
                ++to;
        if (to > from)
            placeGroup({heads.data() + from, to - from + 1}, picture);
        else
            placeLone(heads[from], picture);
        from = to + 1;
    }
    placeTuplets(heads, picture);
}

} // namespace valveladder
