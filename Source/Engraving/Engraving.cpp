#include "Engraving/Engraving.h"

#include "Engraving/Beaming.h"
#include "Engraving/Curves.h"
#include "Engraving/Spacing.h"

#include <algorithm>
#include <cmath>
#include <string>

namespace valveladder {

namespace {

// Air round the symbols, staff spaces. By eye, in the proportions of engraving practice (Gould, "Behind
// Bars", 2011, gives ranges for most of them; from memory).
constexpr double clefLeft = 0.6;
constexpr double afterClef = 0.9;
constexpr double afterMeter = 1.4;
constexpr double firstNoteRoom = 2.2;
constexpr double afterKey = 0.9;
constexpr double keyGap = 0.15;
constexpr double graceScale = 0.6;
constexpr double graceStep = 1.25;
constexpr double accidentalGap = 0.28;
constexpr double ledgerGap = 0.15; ///< between an accidental and the ledger line beside it
constexpr double dotGap = 0.35;
constexpr double barLineBefore = 1.15;
constexpr double articulationGap = 0.5;

constexpr double nearHead = 2.5; ///< of a dot to the head it belongs to, at most

constexpr double staffBottom = 4.0;

/// Staff place of the bottom line: E4 with a G clef, G2 with an F clef.
int bottomPlace(Clef clef) {
    return clef == Clef::treble ? 4 * 7 + 2 : 2 * 7 + 4;
}

double widthOf(int alter) {
    return alter > 0 ? bravura::sharpWidth : alter < 0 ? bravura::flatWidth : bravura::naturalWidth;
}

Glyph accidentalGlyph(int alter) {
    return alter > 0 ? Glyph::sharp : alter < 0 ? Glyph::flat : Glyph::natural;
}

class Engraver {
public:
    Engraver(const Score& s, const Instrument& i, const SheetLayout& l, const Page& p, double width,
             std::vector<TimeKnot> spacing)
        : score(s), instrument(i), layout(l), page(p), perTick(l.quarter / ticksPerQuarter) {
        picture.width = width;
        picture.start = page.start;
        picture.end = page.end;
        picture.knots = std::move(spacing);
    }

    Engraving engrave() {
        placeHead();
        spreadKnots();
        for (int bar = page.firstBar; bar < page.firstBar + page.barCount; ++bar)
            placeBar(bar);
        placeStems(heads, picture);
        clearDotsOfFlags();
        for (StemmedHead& head : heads)
            placeAccent(head);
        placeSlurs();
        placeBreath();
        findInk();
        return std::move(picture);
    }

private:
    void placeHead() {
        const bool treble = instrument.clef == Clef::treble;
        double x = clefLeft;
        picture.glyphs.push_back({treble ? Glyph::gClef : Glyph::fClef, x, treble ? 3.0 : 1.0});
        x += bravura::clefWidth + afterClef;
        x = placeKey(x);
        if (const auto& meter = layout.bars[static_cast<std::size_t>(page.firstBar)].meter) {
            placeNumber(meter->beats, x, 1.0);
            placeNumber(meter->unit, x, 3.0);
        }
        picture.timeLeft = headRoom(layout, page.firstBar);
        if (signsOf(page.firstBar).repeatStart)
            placeRepeatStart(picture.timeLeft - firstNoteRoom - repeatRoom);
        picture.timeRight = picture.width - tailRoom;
    }

    double placeKey(double x) {
        const int fifths = layout.bars[static_cast<std::size_t>(page.firstBar)].fifths;
        const int bottom = bottomPlace(instrument.clef);
        // The octave that each clef uses: sharps from A4 to G5 and flats from F4 to E5 with a G clef, the
        // same pattern two places lower with an F clef.
        const int lowest = bottom + (fifths > 0 ? 3 : 1) - (instrument.clef == Clef::treble ? 0 : 2);
        for (const int step : keySteps(fifths)) {
            int place = lowest / 7 * 7 + step;
            while (place < lowest)
                place += 7;
            picture.glyphs.push_back({accidentalGlyph(fifths), x, staffBottom - (place - bottom) / 2.0});
            x += widthOf(fifths) + keyGap;
        }
        return x + (fifths == 0 ? 0.0 : afterKey);
    }

    void spreadKnots() {
        if (picture.knots.empty())
            return;
        const double from = picture.knots.front().x;
        const double natural = std::max(0.1, picture.knots.back().x - from);
        const double scale = (picture.timeRight - picture.timeLeft) / natural;
        for (TimeKnot& knot : picture.knots)
            knot.x = picture.timeLeft + (knot.x - from) * scale;
    }

    void placeNumber(int number, double x, double y) {
        const std::string digits = std::to_string(number);
        for (std::size_t i = 0; i < digits.size(); ++i)
            picture.glyphs.push_back({plus(Glyph::timeSignature0, digits[i] - '0'),
                                      x + static_cast<double>(i) * bravura::digitWidth, y});
    }

    [[nodiscard]] double xOf(std::int64_t layoutTime) const {
        return picture.xAt(static_cast<double>(layoutTime) / static_cast<double>(perTick) +
                           static_cast<double>(score.countInTicks));
    }

    [[nodiscard]] bool onPage(const SheetSymbol& symbol) const {
        const Tick start = symbol.start / perTick + score.countInTicks;
        return start >= page.start && start < page.end;
    }

    void placeBar(int index) {
        const SheetBar& bar = layout.bars[static_cast<std::size_t>(index)];
        accidentals.newBar(bar.fifths);
        bool first = true;
        for (const SheetSymbol& symbol : bar.symbols) {
            if (!onPage(symbol)) {
                if (symbol.note >= 0)
                    (void)accidentals.print(layout.spelled(score, symbol.note), symbol.tiedFrom);
                continue;
            }
            double left = symbol.note < 0 ? placeRest(symbol, index) : placeNote(symbol);
            left = placeGraces(symbol, left);
            if (first && index > page.firstBar)
                endBar(index - 1, std::min(left, xOf(symbol.start) - bravura::headWidth / 2) - barLineBefore);
            first = false;
        }
        if (index + 1 == page.firstBar + page.barCount)
            endBar(index, picture.width - bravura::barLine / 2);
    }

    [[nodiscard]] const BarSigns& signsOf(int bar) const {
        return layout.bars[static_cast<std::size_t>(bar)].signs;
    }

    /// The line after `bar`, at `x` or, where repeats need more room, before it.
    void endBar(int bar, double x) {
        const bool last = bar + 1 == page.firstBar + page.barCount;
        const bool starts = !last && signsOf(bar + 1).repeatStart;
        const bool ends = signsOf(bar).repeatTimes > 0;
        const double line = starts ? x - repeatRoom : x;
        const double left = picture.bars.empty() ? picture.timeLeft - 1.0 : picture.bars.back().right;
        picture.bars.push_back({bar, left, line});
        if (!starts && !ends)
            return placeBarLine(line, bravura::barLine);
        if (ends) // its thick line ends where a plain one would
            placeRepeatEnd(line + bravura::barLine / 2);
        if (starts)
            placeRepeatStart(ends ? line + bravura::barLine / 2 - bravura::thickBarLine : line);
    }

    void placeBarLine(double x, double thickness) {
        picture.lines.push_back({x, 0.0, x, staffBottom, thickness});
    }

    /// Thick, thin, dots, from `x` to the right.
    void placeRepeatStart(double x) {
        placeBarLine(x + bravura::thickBarLine / 2, bravura::thickBarLine);
        x += bravura::thickBarLine + bravura::barLineGap;
        placeBarLine(x + bravura::barLine / 2, bravura::barLine);
        placeRepeatDots(x + bravura::barLine + bravura::repeatDotGap);
    }

    /// Dots, thin, thick, up to `x`.
    void placeRepeatEnd(double x) {
        placeBarLine(x - bravura::thickBarLine / 2, bravura::thickBarLine);
        x -= bravura::thickBarLine + bravura::barLineGap;
        placeBarLine(x - bravura::barLine / 2, bravura::barLine);
        placeRepeatDots(x - bravura::barLine - bravura::repeatDotGap - bravura::repeatDotWidth);
    }

    void placeRepeatDots(double x) {
        for (const double y : {staffMiddle - 0.5, staffMiddle + 0.5})
            picture.glyphs.push_back({Glyph::repeatDot, x, y});
    }

    /// Returns the left edge of what was placed, as placeNote does.
    double placeRest(const SheetSymbol& symbol, int bar) {
        const double x = symbol.wholeBar ? middleOfBar(symbol, bar) : xOf(symbol.start);
        const bool whole = symbol.wholeBar || symbol.value.power == 0;
        const double y = whole ? 1.0 : staffMiddle;
        const double left = x - bravura::restWidth / 2;
        picture.glyphs.push_back({plus(Glyph::wholeRest, whole ? 0 : symbol.value.power), left, y});
        placeDots(symbol.value.dots, x + bravura::restWidth / 2, 1.5);
        return left;
    }

    /// Between the bar lines, where the time between them does not say it: the next bar's own room begins
    /// with its line.
    [[nodiscard]] double middleOfBar(const SheetSymbol& symbol, int bar) const {
        const double middle = (xOf(symbol.start) + xOf(symbol.end())) / 2;
        const bool last = symbol.end() / perTick + score.countInTicks >= page.end;
        if (picture.knots.empty())
            return middle;
        const double signs = (signsOf(bar).repeatTimes > 0 ? repeatRoom : 0.0) +
                             (!last && signsOf(bar + 1).repeatStart ? repeatRoom : 0.0);
        return middle - signs / 2 - (last ? 0.0 : barLineBefore + bravura::headWidth / 2);
    }

    double placeNote(const SheetSymbol& symbol) {
        EngravedHead head;
        head.note = symbol.note;
        head.spelled = layout.spelled(score, symbol.note);
        head.x = xOf(symbol.start);
        head.y = staffBottom - (head.spelled.place() - bottomPlace(instrument.clef)) / 2.0;
        head.power = symbol.value.power;
        head.dots = symbol.value.dots;
        head.beams = symbol.beams;
        head.tiedFrom = symbol.tiedFrom;
        head.accidental = accidentals.print(head.spelled, symbol.tiedFrom);
        head.accent = scoreNote(symbol.note).accent && !symbol.tiedFrom;
        const double width = head.power == 0 ? bravura::wholeHeadWidth : bravura::headWidth;
        double left = head.x - width / 2;
        const Glyph shape = head.power == 0   ? Glyph::wholeHead
                            : head.power == 1 ? Glyph::halfHead
                                              : Glyph::blackHead;
        picture.glyphs.push_back({shape, left, head.y, head.note});
        placeLedgers(head, width);
        const bool onLine = (head.spelled.place() - bottomPlace(instrument.clef)) % 2 == 0;
        placeDots(head.dots, head.x + width / 2, onLine ? head.y - 0.5 : head.y, head.note);
        if (head.accidental) {
            const bool ledgers = head.y < -0.5 || head.y > staffBottom + 0.5;
            left -=
                (ledgers ? bravura::ledgerExtension + ledgerGap : accidentalGap) + widthOf(*head.accidental);
            picture.glyphs.push_back({accidentalGlyph(*head.accidental), left, head.y, head.note});
        }
        picture.heads.push_back(head);
        heads.push_back({symbol, head});
        return left;
    }

    /// Small black notes, stems up, to the left of what they lead to.
    double placeGraces(const SheetSymbol& symbol, double left) {
        for (std::size_t i = symbol.graces.size(); i-- > 0;) {
            const int note = symbol.graces[i];
            const Spelled spelled = layout.spelled(score, note);
            const double y = staffBottom - (spelled.place() - bottomPlace(instrument.clef)) / 2.0;
            left -= graceStep;
            picture.glyphs.push_back({Glyph::blackHead, left, y, note, graceScale});
            const double stem = left + (bravura::headWidth - bravura::stem / 2) * graceScale;
            picture.stems.push_back({stem, y - 3.5 * graceScale, y - bravura::stemAtHead, note});
            picture.glyphs.push_back(
                {Glyph::flag8thUp, stem - bravura::stem / 2, y - 3.5 * graceScale, note, graceScale});
            if (const auto printed = accidentals.print(spelled, false)) {
                left -= widthOf(*printed) * graceScale + accidentalGap;
                picture.glyphs.push_back({accidentalGlyph(*printed), left, y, note, graceScale});
            }
        }
        return left;
    }

    void placeDots(int dots, double right, double y, int note = -1) {
        for (int dot = 0; dot < dots; ++dot)
            picture.glyphs.push_back(
                {Glyph::augmentationDot, right + dotGap + dot * (bravura::dotWidth + dotGap), y, note});
    }

    /// A flag hangs down from the end of its stem to the right, where the dots of its note stand.
    void clearDotsOfFlags() {
        for (const StemmedHead& head : heads) {
            const bool flagged = head.stemUp && head.head.power > 2 && head.head.beams.empty();
            if (!flagged || head.head.dots == 0)
                continue;
            for (PlacedGlyph& glyph : picture.glyphs)
                if (glyph.glyph == Glyph::augmentationDot && glyph.note == head.head.note &&
                    std::abs(glyph.x - head.head.x) < nearHead)
                    glyph.x += bravura::flagWidth;
        }
    }

    void placeLedgers(const EngravedHead& head, double width) {
        const double reach = width / 2 + bravura::ledgerExtension;
        const auto ledger = [&](double y) {
            picture.lines.push_back({head.x - reach, y, head.x + reach, y, bravura::ledgerLine});
        };
        for (double y = staffBottom + 1; y <= head.y; y += 1.0)
            ledger(y);
        for (double y = -1.0; y >= head.y; y -= 1.0)
            ledger(y);
    }

    /// On the head's side, outside the staff.
    void placeAccent(StemmedHead& head) {
        head.headSide = head.head.y + (head.stemUp ? 0.5 : -0.5);
        if (!head.head.accent)
            return;
        const double x = head.head.x - bravura::accentWidth / 2;
        if (head.stemUp) {
            const double y = std::max(head.head.y + 0.5, staffBottom) + articulationGap;
            picture.glyphs.push_back({Glyph::accentBelow, x, y, head.head.note});
            head.headSide = y + bravura::accentHeight;
        } else {
            const double y = std::min(head.head.y - 0.5, 0.0) - articulationGap;
            picture.glyphs.push_back({Glyph::accentAbove, x, y, head.head.note});
            head.headSide = y - bravura::accentHeight;
        }
    }

    void placeSlurs() {
        for (std::size_t i = 0; i + 1 < heads.size(); ++i)
            if (heads[i].symbol.tiedTo)
                picture.slurs.push_back(tieBetween(heads[i], heads[i + 1]));
        std::size_t from = 0;
        while (from < heads.size()) {
            std::size_t to = from;
            while (to + 1 < heads.size() && joined(to + 1))
                ++to;
            const bool more = heads[to].symbol.note + 1 < static_cast<int>(score.notes.size()) &&
                              scoreNote(heads[to].symbol.note + 1).slurFromPrevious && to + 1 == heads.size();
            const bool before = from == 0 && scoreNote(heads[from].symbol.note).slurFromPrevious;
            if (to > from || more || before)
                picture.slurs.push_back(slurOver({heads.data() + from, to - from + 1}, before, more));
            from = to + 1;
        }
    }

    [[nodiscard]] bool joined(std::size_t index) const {
        const SheetSymbol& symbol = heads[index].symbol;
        return symbol.tiedFrom || scoreNote(symbol.note).slurFromPrevious;
    }

    /// After each segment that ends on the page.
    void placeBreath() {
        for (int note = page.firstNote; note < page.firstNote + page.noteCount; ++note) {
            const ScoreNote& last = scoreNote(note);
            const ScoreSpan& span = score.spans[static_cast<std::size_t>(last.span)];
            const bool ends = note + 1 == span.firstNote + span.noteCount;
            if (!ends || (note + 1 == page.firstNote + page.noteCount && !page.closesSpan))
                continue;
            const double x =
                picture.xAt(static_cast<double>(last.onset + last.length)) - bravura::commaWidth - 0.3;
            picture.glyphs.push_back({Glyph::breathComma, x, -0.4});
        }
    }

    /// Glyphs reach about a space and a half round their origin, clefs further.
    void findInk() {
        const auto see = [this](double top, double bottom) {
            picture.top = std::min(picture.top, top);
            picture.bottom = std::max(picture.bottom, bottom);
        };
        see(instrument.clef == Clef::treble ? -1.5 : 0.0, instrument.clef == Clef::treble ? 5.7 : 4.0);
        for (const PlacedGlyph& glyph : picture.glyphs)
            if (glyph.note >= 0 || glyph.glyph == Glyph::breathComma)
                see(glyph.y - 1.0, glyph.y + 1.0);
        for (const PlacedStem& stem : picture.stems)
            see(stem.top, stem.bottom);
        for (const PlacedSlur& slur : picture.slurs) {
            const double middle = (slur.y1 + slur.y2) / 2 + slur.bulge * 0.75;
            see(std::min({slur.y1, slur.y2, middle}), std::max({slur.y1, slur.y2, middle}));
        }
    }

    [[nodiscard]] const ScoreNote& scoreNote(int note) const {
        return score.notes[static_cast<std::size_t>(note)];
    }

    const Score& score;
    const Instrument& instrument;
    const SheetLayout& layout;
    const Page& page;
    std::int64_t perTick;
    Engraving picture;
    std::vector<StemmedHead> heads;
    BarAccidentals accidentals;
};

} // namespace

double headRoom(const SheetLayout& layout, int firstBar) {
    const SheetBar& bar = layout.bars[static_cast<std::size_t>(firstBar)];
    double room = clefLeft + bravura::clefWidth + afterClef + firstNoteRoom;
    if (bar.fifths != 0)
        room += static_cast<double>(keySteps(bar.fifths).size()) * (widthOf(bar.fifths) + keyGap) + afterKey;
    if (bar.meter) {
        const auto digits =
            std::max(std::to_string(bar.meter->beats).size(), std::to_string(bar.meter->unit).size());
        room += static_cast<double>(digits) * bravura::digitWidth + afterMeter;
    }
    return room + (bar.signs.repeatStart ? repeatRoom : 0.0);
}

double Engraving::xAt(double tick) const {
    const auto linear = [tick](double from, double to, double left, double right) {
        return left + (tick - from) / (to - from) * (right - left);
    };
    if (knots.size() < 2)
        return linear(static_cast<double>(start), static_cast<double>(end), timeLeft, timeRight);
    auto after = std::partition_point(knots.begin() + 1, knots.end() - 1,
                                      [tick](const TimeKnot& knot) { return knot.tick <= tick; });
    const TimeKnot& before = *std::prev(after);
    return linear(before.tick, after->tick, before.x, after->x);
}

Engraving engrave(const Score& score, const Instrument& instrument, const SheetLayout& layout,
                  const Page& page, double width, std::vector<TimeKnot> spacing) {
    return Engraver(score, instrument, layout, page, width, std::move(spacing)).engrave();
}

} // namespace valveladder
