#include "Engraving/SheetPages.h"

#include "Engraving/LineBreaks.h"
#include "Engraving/RepeatSigns.h"

#include <algorithm>
#include <fmt/format.h>

namespace valveladder {

namespace {

// Staff spaces, ours, by eye.
constexpr double titleRoom = 9.0;
constexpr double rowStep = 1.7;      ///< between the two rows of fingerings
constexpr double fingeringGap = 1.8; ///< from the lowest ink to the first row's baseline
constexpr double stripGap = 0.7;
constexpr double labelGap = 1.1;   ///< from the highest ink to the labels' baseline
constexpr double labelSpace = 1.9; ///< between two labels
constexpr double labelRoom = 2.4;
constexpr double systemGap = 1.6;
constexpr double smallStep = 2.0; ///< between lines of small words
constexpr double lowestStaffInk = 5.0;
constexpr double metronomeScale = 0.75;

/// A line of music with what stands over and under it, before it has a place on a page.
struct Block {
    PlacedSystem system;
    std::vector<SheetText> texts; ///< from the staff's top left corner
    double above = 0.0;           ///< how far it reaches over its staff's top line, and under it
    double below = 0.0;
};

class Blocks {
public:
    explicit Blocks(const SheetContent& c) : content(c) {}

    Block make(MusicLine line) const {
        Block block;
        PlacedSystem& system = block.system;
        system.page = line.page;
        system.page.closesSpan = content.breathMarks;
        system.music = engrave(content.score, content.instrument, content.layout, system.page, line.width,
                               std::move(line.spacing));
        block.above = -system.music.top;
        block.below = std::max(system.music.bottom, lowestStaffInk);
        addFingerings(block);
        addStrip(block);
        addLabels(block);
        block.above = addRepeatSigns(content.layout, block.system.music, block.texts, block.above);
        return block;
    }

private:
    void addFingerings(Block& block) const {
        if (content.fingerings.empty())
            return;
        const double first = block.below + fingeringGap;
        bool any = false;
        bool second = false;
        const auto add = [&](int note, double x) {
            const NoteFingering& fingering = content.fingerings[static_cast<std::size_t>(note)];
            any = any || !fingering.usual.empty();
            second = second || !fingering.alternate.empty();
            if (!fingering.usual.empty())
                block.texts.push_back(
                    {TextStyle::fingering, fingering.usual, x, first, TextAlign::centre, note});
            if (!fingering.alternate.empty())
                block.texts.push_back({TextStyle::alternate, "(" + fingering.alternate + ")", x,
                                       first + rowStep, TextAlign::centre, note});
        };
        for (const EngravedHead& head : block.system.music.heads)
            if (!head.tiedFrom)
                add(head.note, head.x);
        for (const PlacedGlyph& glyph : block.system.music.glyphs)
            if (glyph.glyph == Glyph::blackHead && glyph.scale < 1.0)
                add(glyph.note, glyph.x + bravura::headWidth * glyph.scale / 2);
        block.below = any ? first + (second ? rowStep : 0.0) : block.below;
    }

    void addStrip(Block& block) const {
        if (!content.valveStrip)
            return;
        block.system.stripTop = block.below + stripGap;
        block.system.holds = valveStrip(content.score, block.system.page);
        block.system.lanes = content.instrument.valves;
        block.below = block.system.stripTop + laneHeight * block.system.lanes;
    }

    void addLabels(Block& block) const {
        const Page& page = block.system.page;
        const double y = block.system.music.top - labelGap;
        double free = -content.margin;
        const auto add = [&](TextStyle style, const std::string& text, double x) {
            if (text.empty())
                return;
            const double at = std::max(x, free);
            block.texts.push_back({style, text, at, y, TextAlign::left, -1});
            free = at + roughWidth(style, text) + labelSpace;
            block.above = std::max(block.above, -y + labelRoom);
        };
        if (content.barNumbers && page.firstBar > 0)
            add(TextStyle::small, barName(page.firstBar), 0.0);
        for (const SheetLabel& label : content.labels) {
            if (label.tick < page.start || label.tick >= page.end)
                continue;
            const double x = block.system.music.xAt(static_cast<double>(label.tick)) - 1.0;
            add(TextStyle::boxed, label.boxed, x);
            add(TextStyle::label, label.text, x);
        }
    }

    [[nodiscard]] std::string barName(int bar) const {
        return content.barNames.empty() ? std::to_string(bar + 1)
                                        : content.barNames[static_cast<std::size_t>(bar)];
    }

    const SheetContent& content;
};

class Paginator {
public:
    Paginator(const SheetContent& c, const Paper& paper)
        : content(c), width(paper.width / paperSpaceMm), height(paper.height / paperSpaceMm),
          margin(c.margin) {}

    std::vector<PrintedPage> paginate() {
        pages.emplace_back();
        addHead();
        const Blocks blocks(content);
        for (MusicLine& line : musicLines(content, width - 2 * margin))
            place(blocks.make(std::move(line)));
        for (const std::string& words : content.endWords)
            addEndLine(words);
        addFoot();
        for (std::size_t page = 0; pages.size() > 1 && page < pages.size(); ++page)
            pages[page].texts.push_back({TextStyle::small, fmt::format("{} / {}", page + 1, pages.size()),
                                         width - margin, height - margin / 2, TextAlign::right, -1});
        return std::move(pages);
    }

private:
    void addHead() {
        free = margin;
        if (content.title.empty() && content.heading.empty() && !(content.bpm > 0.0))
            return;
        PrintedPage& page = pages.back();
        page.texts.push_back(
            {TextStyle::title, content.title, width / 2, margin + 2.5, TextAlign::centre, -1});
        const double y = margin + 7.0;
        page.texts.push_back({TextStyle::heading, content.heading, width - margin, y, TextAlign::right, -1});
        if (content.bpm > 0.0) {
            page.glyphs.push_back({Glyph::metronomeQuarter, margin, y, -1, metronomeScale});
            page.texts.push_back({TextStyle::heading, fmt::format("= {:g}", content.bpm), margin + 1.8, y,
                                  TextAlign::left, -1});
        }
        free = margin + titleRoom;
    }

    /// On the page, or on a new one where it does not fit any more.
    void need(double room) {
        if (free + room <= height - margin)
            return;
        pages.emplace_back();
        free = margin;
    }

    void place(Block block) {
        need(block.above + block.below);
        PrintedPage& page = pages.back();
        block.system.x = margin;
        block.system.y = free + block.above;
        for (SheetText& text : block.texts) {
            text.x += block.system.x;
            text.y += block.system.y;
            page.texts.push_back(std::move(text));
        }
        free = block.system.y + block.below + systemGap;
        page.systems.push_back(std::move(block.system));
    }

    void addEndLine(const std::string& words) {
        need(smallStep);
        pages.back().texts.push_back({TextStyle::small, words, margin, free + 1.0, TextAlign::left, -1});
        free += smallStep;
    }

    /// At the very foot, or on a page more where the music reaches down to it.
    void addFoot() {
        const double room = smallStep * static_cast<double>(content.foot.size());
        need(room);
        double y = height - margin - room + smallStep;
        for (const std::string& words : content.foot) {
            pages.back().texts.push_back({TextStyle::small, words, margin, y, TextAlign::left, -1});
            y += smallStep;
        }
    }

    const SheetContent& content;
    double width;
    double height;
    double margin;
    double free = 0.0; ///< from here down the page is empty
    std::vector<PrintedPage> pages;
};

} // namespace

double textHeight(TextStyle style) {
    switch (style) {
    case TextStyle::title:
        return 3.4;
    case TextStyle::heading:
        return 2.1;
    case TextStyle::label:
    case TextStyle::boxed:
        return 1.75;
    case TextStyle::fingering:
        return 1.6;
    case TextStyle::alternate:
        return 1.4;
    case TextStyle::lane:
        return 1.0;
    case TextStyle::small:
        break;
    }
    return 1.45;
}

std::vector<PrintedPage> printedPages(const SheetContent& content, const Paper& paper) {
    return Paginator(content, paper).paginate();
}

} // namespace valveladder
