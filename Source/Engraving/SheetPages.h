#pragma once

#include "Engraving/Engraving.h"
#include "Engraving/ValveStrip.h"

#include <string>
#include <vector>

namespace valveladder {

/// A sheet of paper, millimetres.
struct Paper {
    double width = 210.0; ///< A4, ISO 216
    double height = 297.0;

    [[nodiscard]] static Paper a4() { return {}; }
    [[nodiscard]] static Paper letter() { return {215.9, 279.4}; } ///< ANSI/ASME Y14.1, size A
};

/// Millimetres a staff space: a staff of 7 mm, usual for parts (Gould, "Behind Bars", 2011, from memory).
inline constexpr double paperSpaceMm = 1.75;

enum class TextStyle { title, heading, label, boxed, fingering, alternate, lane, small };

/// Height of a style's type, staff spaces.
[[nodiscard]] double textHeight(TextStyle style);

enum class TextAlign { left, centre, right };

/// A line of words; x is where it is aligned, y its baseline.
struct SheetText {
    TextStyle style = TextStyle::small;
    std::string text;
    double x = 0.0;
    double y = 0.0;
    TextAlign align = TextAlign::left;
    int note = -1; ///< the note it belongs to, -1 = none
};

/// A line of music on a page: its staff's top left corner lies at x, y.
struct PlacedSystem {
    double x = 0.0;
    double y = 0.0;
    Page page;
    Engraving music;
    std::vector<ValveHold> holds;
    int lanes = 0;         ///< of the valve strip, laneHeight high each; 0 = there is none
    double stripTop = 0.0; ///< from the staff's top line down
};

inline constexpr double laneHeight = 0.85; ///< of the printed valve strip

/// One printed page. Lengths are staff spaces from the paper's top left corner.
struct PrintedPage {
    std::vector<PlacedSystem> systems;
    std::vector<SheetText> texts;
    std::vector<PlacedGlyph> glyphs; ///< beside the systems' own
};

/// Words over the staff from a moment on.
struct SheetLabel {
    Tick tick = 0;
    std::string boxed; ///< empty = none
    std::string text;
};

/// What stands under a note.
struct NoteFingering {
    std::string usual; ///< empty = none
    std::string alternate;
};

/// What is to be printed.
struct SheetContent {
    Score score;
    Instrument instrument;
    SheetLayout layout;
    std::string title;
    std::string heading;                   ///< under it at the right: the instrument
    double bpm = 0.0;                      ///< quarters a minute; 0 = none is printed
    std::vector<NoteFingering> fingerings; ///< of Score::notes; empty = none
    std::vector<SheetLabel> labels;        ///< by tick
    std::vector<int> newLines;             ///< bars that begin a line
    std::vector<std::string> endWords;     ///< lines after the music
    std::vector<std::string> foot;         ///< lines at the foot of the last page
    bool breathMarks = true;               ///< after each segment
    bool barNumbers = false;               ///< at each line but the first
    std::vector<std::string> barNames;     ///< as printed; empty = from 1
    bool valveStrip = true;
    double margin = 8.5;       ///< on all sides, staff spaces
    double mostStretch = 1.45; ///< times its natural spacing; a line that would need more stays short
};

/// Lays the music out on pages: lines break between bars, where a segment begins if there is a choice, and
/// are widened to the margins if they are nearly full. Pure: same input, same pages.
[[nodiscard]] std::vector<PrintedPage> printedPages(const SheetContent& content, const Paper& paper);

} // namespace valveladder
