#include "Engraving/Curves.h"

#include <algorithm>
#include <cmath>

namespace valveladder {

namespace {

constexpr double headGap = 0.45;
constexpr double clearance = 0.55;
constexpr double flattest = 0.9;
constexpr double openEnd = 2.0; ///< how far a slur reaches that goes on elsewhere
constexpr double stemReach = 3.6;

/// Height of the curve over its chord at a share of the way, for control points at a fifth and four fifths.
double archAt(double share) {
    return 3.0 * share * (1.0 - share);
}

/// The height that a slur above (away -1) or below (+1) must keep clear of.
double edgeOf(const StemmedHead& head, double away) {
    const bool onHeadSide = head.stemUp == (away > 0.0);
    if (onHeadSide)
        return head.headSide;
    return head.head.y + away * (head.head.power > 0 ? stemReach : 0.5);
}

} // namespace

PlacedSlur tieBetween(const StemmedHead& from, const StemmedHead& to) {
    const double away = from.stemUp ? 1.0 : -1.0;
    const double y = from.head.y + away * 0.6;
    PlacedSlur tie{from.head.x + 0.5, y, to.head.x - 0.5, y, away * 0.8, from.head.note, to.head.note, true};
    return tie;
}

PlacedSlur slurOver(std::span<const StemmedHead> heads, bool before, bool more) {
    const bool allUp = std::all_of(heads.begin(), heads.end(), [](const auto& h) { return h.stemUp; });
    const double away = allUp ? 1.0 : -1.0;
    const StemmedHead& first = heads.front();
    const StemmedHead& last = heads.back();
    PlacedSlur slur;
    slur.firstNote = first.head.note;
    slur.lastNote = last.head.note;
    slur.x1 = first.head.x - (before ? openEnd : 0.0);
    slur.y1 = edgeOf(first, away) + away * headGap;
    slur.x2 = last.head.x + (more ? openEnd : 0.0);
    slur.y2 = edgeOf(last, away) + away * headGap;
    double bulge = std::clamp((slur.x2 - slur.x1) * 0.06, flattest, 2.4);
    for (const StemmedHead& head : heads) {
        const double share = (head.head.x - slur.x1) / std::max(0.1, slur.x2 - slur.x1);
        if (share < 0.08 || share > 0.92)
            continue;
        const double chord = slur.y1 + share * (slur.y2 - slur.y1);
        const double over = away * (edgeOf(head, away) - chord) + clearance;
        bulge = std::max(bulge, over / archAt(share));
    }
    slur.bulge = away * bulge;
    return slur;
}

} // namespace valveladder
