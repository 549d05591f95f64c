#include "Screen/EngravingPainter.h"

#include "Screen/MusicFont.h"

namespace valveladder {

namespace {

/// Thin lines lie on whole pixels, so that the staff is crisp at every size.
void paintLevel(juce::Graphics& g, const StaffPlace& place, double x1, double x2, double y,
                double thickness) {
    const float high = juce::jmax(1.0F, std::round(static_cast<float>(thickness) * place.space));
    const float top = std::round(place.y(y) - high / 2);
    g.fillRect(juce::Rectangle<float>(place.x(x1), top, place.x(x2) - place.x(x1), high));
}

void paintUpright(juce::Graphics& g, const StaffPlace& place, double x, double y1, double y2,
                  double thickness) {
    const float wide = juce::jmax(1.0F, static_cast<float>(thickness) * place.space);
    g.fillRect(juce::Rectangle<float>(place.x(x) - wide / 2, place.y(y1), wide, place.y(y2) - place.y(y1)));
}

void paintGlyph(juce::Graphics& g, const StaffPlace& place, const PlacedGlyph& glyph) {
    const float size = place.space * static_cast<float>(glyph.scale);
    g.fillPath(glyphPath(glyph.glyph),
               juce::AffineTransform::scale(size).translated(place.x(glyph.x), place.y(glyph.y)));
}

void paintBeam(juce::Graphics& g, const StaffPlace& place, const PlacedBeam& beam) {
    const auto half = static_cast<float>(bravura::beam) / 2 * place.space;
    juce::Path path;
    path.startNewSubPath(place.x(beam.x1), place.y(beam.y1) - half);
    path.lineTo(place.x(beam.x2), place.y(beam.y2) - half);
    path.lineTo(place.x(beam.x2), place.y(beam.y2) + half);
    path.lineTo(place.x(beam.x1), place.y(beam.y1) + half);
    path.closeSubPath();
    g.fillPath(path);
}

/// Two curves that meet in thin ends.
void paintSlur(juce::Graphics& g, const StaffPlace& place, const PlacedSlur& slur) {
    const double run = slur.x2 - slur.x1;
    const auto control = [&](double share, double away) {
        return juce::Point<float>(place.x(slur.x1 + run * share),
                                  place.y(slur.y1 + (slur.y2 - slur.y1) * share + away));
    };
    const double thick = bravura::slurMiddle / 0.75 / 2;
    juce::Path path;
    path.startNewSubPath(place.x(slur.x1), place.y(slur.y1));
    path.cubicTo(control(0.2, slur.bulge + thick), control(0.8, slur.bulge + thick),
                 {place.x(slur.x2), place.y(slur.y2)});
    path.cubicTo(control(0.8, slur.bulge - thick), control(0.2, slur.bulge - thick),
                 {place.x(slur.x1), place.y(slur.y1)});
    path.closeSubPath();
    g.fillPath(path);
    g.strokePath(path, juce::PathStrokeType(static_cast<float>(bravura::slurEnd) * place.space));
}

} // namespace

void paintEngraving(juce::Graphics& g, const Engraving& engraving, const StaffPlace& place, juce::Colour ink,
                    juce::Colour staffLines) {
    g.setColour(staffLines);
    for (int line = 0; line < 5; ++line)
        paintLevel(g, place, 0.0, engraving.width, line, bravura::staffLine);
    g.setColour(ink);
    for (const PlacedLine& line : engraving.lines) {
        if (!(line.x1 < line.x2))
            paintUpright(g, place, line.x1, line.y1, line.y2, line.thickness);
        else
            paintLevel(g, place, line.x1, line.x2, line.y1, line.thickness);
    }
    for (const PlacedStem& stem : engraving.stems)
        paintUpright(g, place, stem.x, stem.top, stem.bottom, bravura::stem);
    for (const PlacedBeam& beam : engraving.beams)
        paintBeam(g, place, beam);
    for (const PlacedSlur& slur : engraving.slurs)
        paintSlur(g, place, slur);
    for (const PlacedGlyph& glyph : engraving.glyphs)
        paintGlyph(g, place, glyph);
}

void paintNote(juce::Graphics& g, const Engraving& engraving, const StaffPlace& place, int note,
               juce::Colour ink) {
    g.setColour(ink);
    for (const PlacedGlyph& glyph : engraving.glyphs)
        if (glyph.note == note)
            paintGlyph(g, place, glyph);
}

} // namespace valveladder
