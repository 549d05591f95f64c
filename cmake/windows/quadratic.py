#!/usr/bin/env python3
"""Writes a font with cubic outlines (CFF) as one with quadratic ones (glyf).

quadratic.py FROM TO

GDI hands out the curves of a font as they are, and JUCE's module for it draws quadratic ones alone: of cubic
ones it leaves the corners.
"""
import sys

from fontTools.pens.cu2quPen import Cu2QuPen
from fontTools.pens.ttGlyphPen import TTGlyphPen
from fontTools.ttLib import TTFont, newTable

FARTHEST = 1.0  # from the cubic curve, units of the em


def quadratic(glyphs):
    drawn = {}
    for name in glyphs.keys():
        pen = TTGlyphPen(glyphs)
        glyphs[name].draw(Cu2QuPen(pen, FARTHEST, reverse_direction=True))
        drawn[name] = pen.glyph()
    return drawn


def convert(font):
    outlines = quadratic(font.getGlyphSet())
    font["loca"] = newTable("loca")
    font["glyf"] = glyf = newTable("glyf")
    glyf.glyphOrder = font.getGlyphOrder()
    glyf.glyphs = outlines
    for table in ("CFF ", "VORG"):
        if table in font:
            del font[table]
    glyf.compile(font)
    metrics = font["hmtx"].metrics
    for name, (width, _) in list(metrics.items()):
        metrics[name] = (width, getattr(glyf[name], "xMin", 0))
    font["maxp"] = maxp = newTable("maxp")
    maxp.tableVersion = 0x00010000
    maxp.numGlyphs = len(font.getGlyphOrder())
    maxp.maxZones = 1
    for unused in ("maxTwilightPoints", "maxStorage", "maxFunctionDefs", "maxInstructionDefs", "maxStackElements",
                   "maxSizeOfInstructions"):
        setattr(maxp, unused, 0)
    maxp.maxComponentElements = max((len(g.components) for g in outlines.values() if hasattr(g, "components")), default=0)
    font["post"].formatType = 3.0  # without names
    font.sfntVersion = "\x00\x01\x00\x00"


def main():
    if len(sys.argv) != 3:
        sys.exit(__doc__)
    font = TTFont(sys.argv[1])
    convert(font)
    font.save(sys.argv[2])


main()
