#!/usr/bin/env python3
"""Draws a sharp (U+266F) and a flat (U+266D), which Inter lacks, into its two files, in their own weights:

    python3 Resources/fonts/accidentals.py Resources/fonts/Inter-Regular.otf Resources/fonts/Inter-SemiBold.otf

Needs fontTools 4 (package python3-fonttools). A file that has the signs already gets them anew."""

import sys

from fontTools.pens.boundsPen import BoundsPen
from fontTools.pens.t2CharStringPen import T2CharStringPen
from fontTools.ttLib import TTFont

SHARP, FLAT = 0x266F, 0x266D
MIDDLE = 1060  # of the sharp, a little above that of the capitals (2048 high); all in Inter's 2816 units an em


def polygon(pen, *points):
    pen.moveTo(points[0])
    for point in points[1:]:
        pen.lineTo(point)
    pen.closePath()


def sharp(pen, stem):
    """`stem`: width of the letter l. Two uprights, the right one higher, and two bars that rise."""
    thin, thick = 0.60 * stem, 0.80 * stem
    wide, apart, rise, side = 1040, 450 + 0.35 * stem, 190, 70
    for x, lift in ((-apart / 2, -65), (apart / 2, 65)):
        left = side + wide / 2 + x - thin / 2
        low, high = MIDDLE + lift - 1120, MIDDLE + lift + 1120
        polygon(pen, (left, low), (left + thin, low), (left + thin, high), (left, high))
    for y in (-350, 350):
        low = MIDDLE + y - thick / 2
        polygon(pen, (side, low - rise / 2), (side + wide, low + rise / 2),
                (side + wide, low + rise / 2 + thick), (side, low - rise / 2 + thick))
    return wide + 2 * side


def flat(pen, stem):
    """A tall upright with a bowl that comes to a point at its foot."""
    thin, thick = 0.60 * stem, 0.85 * stem
    left, wide, foot = 90, 860, -90
    polygon(pen, (left, foot), (left + thin, foot), (left + thin, 2360), (left, 2360))
    right, top = left + wide, 1330
    pen.moveTo((left, foot))
    pen.curveTo((left + 420, 190), (right, 520), (right, 950))
    pen.curveTo((right, 1190), (right - 130, top), (right - 300, top))
    pen.curveTo((left + thin + 150, top), (left + thin, 1180), (left + thin, 1000))
    pen.lineTo((left + thin, 1000 - thick * 0.5))
    pen.curveTo((left + thin + 40, 1000), (left + thin + 130, top - thick * 0.55),
                (right - 330, top - thick * 0.62))
    pen.curveTo((right - thick - 40, top - thick * 0.62), (right - thick, 1060), (right - thick, 930))
    pen.curveTo((right - thick, 640), (left + thin + 260, 420), (left + thin, foot + 330))
    pen.lineTo((left, foot))
    pen.closePath()
    return left + wide + 70


def add(font, code, draw, stem):
    name = f"uni{code:04X}"
    pen = T2CharStringPen(0, font.getGlyphSet())
    advance = round(draw(pen, stem))
    top = font["CFF "].cff.topDictIndex[0]
    drawn = pen.getCharString(top.Private, top.GlobalSubrs)
    drawn.program.insert(0, advance - top.Private.nominalWidthX)
    if name in top.CharStrings:
        top.CharStrings[name] = drawn
    else:
        top.CharStrings.charStringsIndex.append(drawn)
        top.CharStrings.charStrings[name] = len(top.CharStrings.charStringsIndex) - 1
        top.charset.append(name)
        font.setGlyphOrder(top.charset)
    font["hmtx"][name] = (advance, 0)
    for table in font["cmap"].tables:
        if table.isUnicode():
            table.cmap[code] = name


def widthOf(font, letter):
    glyphs = font.getGlyphSet()
    pen = BoundsPen(glyphs)
    glyphs[font.getBestCmap()[ord(letter)]].draw(pen)
    return pen.bounds[2] - pen.bounds[0]


for file in sys.argv[1:]:
    opened = TTFont(file, recalcTimestamp=False)
    letter = widthOf(opened, "l")
    add(opened, SHARP, sharp, letter)
    add(opened, FLAT, flat, letter)
    opened.save(file)
