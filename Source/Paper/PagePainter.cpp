#include "Paper/PagePainter.h"

#include "Base/Inks.h"
#include "Paper/Fonts.h"
#include "Valves/PitchSigns.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <string>

namespace valveladder {

namespace {

constexpr double spacesPerEm = 4.0; // SMuFL 1.4: an em of the font is the height of a staff
constexpr double holdInset = 0.16;  // of a lane
constexpr double hairLine = 0.06;
constexpr double boxPadding = 0.4;
constexpr double quarterTurn = std::numbers::pi / 2;
constexpr double titleRuleWidth = 7.0, titleRuleDepth = 0.4, titleRuleDrop = 1.0;
constexpr std::uint32_t black = 0x000000; // of music and words: a mixed ink prints with soft edges

/// Draws in staff spaces from an origin.
class Painter {
public:
    Painter(cairo_t* surface, double spaceUnit) : on(surface), unit(spaceUnit) {}

    void moveTo(double originX, double originY) {
        left = originX;
        top = originY;
    }

    void setInk(std::uint32_t rgb) const {
        const auto part = [rgb](unsigned shift) { return ((rgb >> shift) & 0xFFU) / 255.0; };
        cairo_set_source_rgb(on, part(16), part(8), part(0));
    }

    void glyph(const PlacedGlyph& placed) const {
        cairo_set_font_face(on, paperFont(PaperFont::music));
        cairo_set_font_size(on, spacesPerEm * placed.scale * unit);
        const cairo_glyph_t shape{glyphIndex(PaperFont::music, static_cast<char32_t>(placed.glyph)),
                                  x(placed.x), y(placed.y)};
        cairo_show_glyphs(on, &shape, 1);
    }

    void box(double x1, double y1, double x2, double y2) const {
        cairo_rectangle(on, x(x1), y(y1), (x2 - x1) * unit, (y2 - y1) * unit);
        cairo_fill(on);
    }

    /// A box with round ends.
    void capsule(double x1, double y1, double x2, double y2) const {
        const double round = std::min(x2 - x1, y2 - y1) / 2 * unit;
        cairo_new_sub_path(on);
        cairo_arc(on, x(x2) - round, y(y1) + round, round, -quarterTurn, 0.0);
        cairo_arc(on, x(x2) - round, y(y2) - round, round, 0.0, quarterTurn);
        cairo_arc(on, x(x1) + round, y(y2) - round, round, quarterTurn, 2 * quarterTurn);
        cairo_arc(on, x(x1) + round, y(y1) + round, round, 2 * quarterTurn, 3 * quarterTurn);
        cairo_close_path(on);
        cairo_fill(on);
    }

    void line(const PlacedLine& placed) const {
        const double half = placed.thickness / 2;
        if (placed.x1 < placed.x2)
            box(placed.x1, placed.y1 - half, placed.x2, placed.y1 + half);
        else
            box(placed.x1 - half, placed.y1, placed.x1 + half, placed.y2);
    }

    void beam(const PlacedBeam& placed) const {
        constexpr double half = bravura::beam / 2;
        cairo_move_to(on, x(placed.x1), y(placed.y1 - half));
        cairo_line_to(on, x(placed.x2), y(placed.y2 - half));
        cairo_line_to(on, x(placed.x2), y(placed.y2 + half));
        cairo_line_to(on, x(placed.x1), y(placed.y1 + half));
        cairo_close_path(on);
        cairo_fill(on);
    }

    /// Two curves that meet in thin ends.
    void slur(const PlacedSlur& placed) const {
        constexpr double thick = bravura::slurMiddle / 0.75 / 2;
        const double run = placed.x2 - placed.x1;
        const double rise = placed.y2 - placed.y1;
        const auto curve = [&](double first, double second, double away, double toX, double toY) {
            cairo_curve_to(on, x(placed.x1 + run * first), y(placed.y1 + rise * first + away),
                           x(placed.x1 + run * second), y(placed.y1 + rise * second + away), x(toX), y(toY));
        };
        cairo_move_to(on, x(placed.x1), y(placed.y1));
        curve(0.2, 0.8, placed.bulge + thick, placed.x2, placed.y2);
        curve(0.8, 0.2, placed.bulge - thick, placed.x1, placed.y1);
        cairo_close_path(on);
        cairo_fill_preserve(on);
        cairo_set_line_width(on, bravura::slurEnd * unit);
        cairo_stroke(on);
    }

    void text(const SheetText& words) const {
        const bool bold = words.style == TextStyle::title || words.style == TextStyle::boxed;
        cairo_set_font_face(on, paperFont(bold ? PaperFont::bold : PaperFont::plain));
        cairo_set_font_size(on, textHeight(words.style) * unit);
        const std::string drawn = withPitchSigns(words.text);
        cairo_text_extents_t extents;
        cairo_text_extents(on, drawn.c_str(), &extents);
        const double width = extents.x_advance / unit;
        const double from = words.x - (words.align == TextAlign::centre  ? width / 2
                                       : words.align == TextAlign::right ? width
                                                                         : 0.0);
        cairo_move_to(on, x(from), y(words.y));
        cairo_show_text(on, drawn.c_str());
        if (words.style == TextStyle::title && !words.text.empty())
            ruleUnder(from + width / 2, words.y);
        if (words.style == TextStyle::boxed)
            frame(from - boxPadding, words.y - textHeight(words.style) * 0.75 - boxPadding,
                  from + width + boxPadding, words.y + boxPadding);
    }

private:
    void ruleUnder(double middle, double baseline) const {
        setInk(inks::brass);
        box(middle - titleRuleWidth / 2, baseline + titleRuleDrop, middle + titleRuleWidth / 2,
            baseline + titleRuleDrop + titleRuleDepth);
        setInk(black);
    }

    void frame(double x1, double y1, double x2, double y2) const {
        cairo_set_line_width(on, bravura::staffLine * unit);
        cairo_rectangle(on, x(x1), y(y1), (x2 - x1) * unit, (y2 - y1) * unit);
        cairo_stroke(on);
    }

    [[nodiscard]] double x(double spaces) const { return (left + spaces) * unit; }
    [[nodiscard]] double y(double spaces) const { return (top + spaces) * unit; }

    cairo_t* on;
    double unit;
    double left = 0.0;
    double top = 0.0;
};

void paintStrip(const Painter& painter, const PlacedSystem& system) {
    const Engraving& music = system.music;
    for (int valve = 1; valve <= system.lanes; ++valve) {
        const double foot = system.stripTop + laneHeight * valve;
        painter.box(music.timeLeft - 1.0, foot - hairLine / 2, music.timeRight, foot + hairLine / 2);
        painter.text({TextStyle::lane, std::to_string(valve), music.timeLeft - 1.6, foot - 0.05,
                      TextAlign::right, -1});
    }
    painter.setInk(inks::brass);
    for (const ValveHold& hold : system.holds) {
        const double head = system.stripTop + laneHeight * (hold.valve - 1);
        const double shift = bravura::headWidth / 2; // a hold begins under its note's left edge
        painter.capsule(music.xAt(static_cast<double>(hold.from)) - shift, head + holdInset,
                        music.xAt(static_cast<double>(hold.to)) - shift, head + laneHeight - holdInset);
    }
    painter.setInk(black);
}

void paintSystem(Painter& painter, const PlacedSystem& system) {
    painter.moveTo(system.x, system.y);
    const Engraving& music = system.music;
    for (int line = 0; line < 5; ++line)
        painter.line(
            {0.0, static_cast<double>(line), music.width, static_cast<double>(line), bravura::staffLine});
    for (const PlacedLine& line : music.lines)
        painter.line(line);
    for (const PlacedStem& stem : music.stems)
        painter.line({stem.x, stem.top, stem.x, stem.bottom, bravura::stem});
    for (const PlacedBeam& beam : music.beams)
        painter.beam(beam);
    for (const PlacedSlur& slur : music.slurs)
        painter.slur(slur);
    for (const PlacedGlyph& glyph : music.glyphs)
        painter.glyph(glyph);
    paintStrip(painter, system);
    painter.moveTo(0.0, 0.0);
}

} // namespace

void paintPage(cairo_t* on, const PrintedPage& page, double unit) {
    Painter painter(on, unit);
    painter.setInk(black);
    for (const PlacedSystem& system : page.systems)
        paintSystem(painter, system);
    for (const PlacedGlyph& glyph : page.glyphs)
        painter.glyph(glyph);
    for (const SheetText& text : page.texts)
        painter.text(text);
}

} // namespace valveladder
