#pragma once

#include "Engraving/Glyph.h"
#include "Engraving/Page.h"
#include "Engraving/SheetSpelling.h"
#include "Ladder/Drill.h"
#include "Valves/Instrument.h"

#include <optional>
#include <vector>

namespace valveladder {

// Lengths are in staff spaces; x grows to the right from the staff's left end, y downwards from its top line
// (the bottom line lies at 4). `note` points into Score::notes, -1 for what belongs to none.

struct PlacedGlyph {
    Glyph glyph = Glyph::blackHead;
    double x = 0.0;
    double y = 0.0;
    int note = -1;
    double scale = 1.0;
};

struct PlacedStem {
    double x = 0.0;
    double top = 0.0;
    double bottom = 0.0;
    int note = -1;
};

/// A beam's middle line from left to right; it is bravura::beam thick.
struct PlacedBeam {
    double x1 = 0.0, y1 = 0.0, x2 = 0.0, y2 = 0.0;
    int level = 1; ///< 1 = eighth, 2 = sixteenth ...
};

/// A slur or tie: a curve of two control points, both `bulge` away from its chord (positive = below).
struct PlacedSlur {
    double x1 = 0.0, y1 = 0.0, x2 = 0.0, y2 = 0.0;
    double bulge = 1.0;
    int firstNote = -1;
    int lastNote = -1;
    bool tie = false;
};

struct PlacedLine {
    double x1 = 0.0, y1 = 0.0, x2 = 0.0, y2 = 0.0;
    double thickness = bravura::staffLine;
};

/// What was engraved of one head, for whoever asks what the picture says.
struct EngravedHead {
    int note = -1;
    double x = 0.0; ///< its middle
    double y = 0.0;
    Spelled spelled;
    int power = 2; ///< 2^-power of a whole note
    int dots = 0;
    std::optional<int> accidental; ///< the printed one
    std::vector<BeamPart> beams;   ///< as SheetSymbol::beams
    bool accent = false;
    bool tiedFrom = false;
};

/// A bar between its lines.
struct PlacedBar {
    int bar = 0;       ///< into SheetLayout::bars
    double left = 0.0; ///< of the page's first bar: where the music begins
    double right = 0.0;
};

/// A moment and its place.
struct TimeKnot {
    double tick = 0.0;
    double x = 0.0;
};

struct Engraving {
    double width = 0.0;
    double top = 0.0; ///< highest and lowest ink
    double bottom = 4.0;
    double timeLeft = 0.0;  ///< x of Page::start and of Page::end: between them x is linear in time, if no
    double timeRight = 0.0; ///< knots say otherwise
    Tick start = 0;
    Tick end = 0;
    std::vector<PlacedGlyph> glyphs;
    std::vector<PlacedStem> stems;
    std::vector<PlacedBeam> beams;
    std::vector<PlacedSlur> slurs;
    std::vector<PlacedLine> lines; ///< ledger lines, bar lines, brackets; the five staff lines are not in it
    std::vector<EngravedHead> heads;
    std::vector<PlacedBar> bars; ///< that end on the page

    std::vector<TimeKnot> knots; ///< x of moments, from Page::start to Page::end; between two it is linear

    /// x of a time; outside the page it runs on.
    [[nodiscard]] double xAt(double tick) const;
};

/// Engraves one page, `width` staff spaces wide. Notes are spaced by their time, so that what lies beside it
/// can share the axis, or as `spacing` says (see naturalSpacing), widened to the width. Bar lines show where
/// repeats begin and end; endings and jumps stand over the staff (see printedPages). Pure: same input,
/// same picture. `instrument` is that of `score`.
[[nodiscard]] Engraving engrave(const Score& score, const Instrument& instrument, const SheetLayout& layout,
                                const Page& page, double width, std::vector<TimeKnot> spacing = {});

/// Width of clef, key and meter before the first note of a page, staff spaces.
[[nodiscard]] double headRoom(const SheetLayout& layout, int firstBar);
/// Width after the last note's time, staff spaces.
inline constexpr double tailRoom = 1.2;

} // namespace valveladder
