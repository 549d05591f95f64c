#include "Engraving/LineBreaks.h"

#include "Engraving/Spacing.h"

#include <algorithm>

namespace valveladder {

namespace {

constexpr double letterShare = 0.6; ///< of a type's height, a digit's width in Inter and many others

class Breaker {
public:
    Breaker(const SheetContent& c, double w) : content(c), width(w) {
        for (const NoteFingering& fingering : c.fingerings)
            texts.push_back(std::max(roughWidth(TextStyle::fingering, fingering.usual),
                                     roughWidth(TextStyle::alternate, fingering.alternate)));
    }

    std::vector<MusicLine> lines() {
        std::vector<MusicLine> all;
        const int bars = static_cast<int>(content.layout.bars.size());
        for (int from = 0; from < bars;) {
            const int to = lineEnd(from, bars);
            all.push_back(lineOf(from, to));
            from = to;
        }
        return all;
    }

private:
    [[nodiscard]] bool mustBreak(int bar) const {
        return std::find(content.newLines.begin(), content.newLines.end(), bar) != content.newLines.end();
    }

    /// The bar after the line's last.
    [[nodiscard]] int lineEnd(int from, int bars) const {
        int segment = from;
        for (int to = from + 1; to < bars; ++to) {
            if (mustBreak(to))
                return to;
            if (content.layout.bars[static_cast<std::size_t>(to)].span >= 0)
                segment = to;
            if (natural(pageOf(from, to + 1)) > width)
                return segment > from ? segment : to;
        }
        return bars;
    }

    [[nodiscard]] double natural(const Page& page) const {
        const auto spacing = naturalSpacing(content.score, content.layout, page, texts);
        return headRoom(content.layout, page.firstBar) + spacing.back().x + tailRoom;
    }

    [[nodiscard]] MusicLine lineOf(int from, int to) const {
        MusicLine line;
        line.page = pageOf(from, to);
        line.spacing = naturalSpacing(content.score, content.layout, line.page, texts);
        const double room = headRoom(content.layout, from) + tailRoom;
        line.width = std::min(width, room + line.spacing.back().x * content.mostStretch);
        return line;
    }

    [[nodiscard]] Tick barStart(int bar) const {
        const auto& bars = content.layout.bars;
        const std::int64_t perTick = content.layout.quarter / ticksPerQuarter;
        const std::int64_t at = bar < static_cast<int>(bars.size())
                                    ? bars[static_cast<std::size_t>(bar)].symbols.front().start
                                    : bars.back().symbols.back().end();
        return at / perTick + content.score.countInTicks;
    }

    [[nodiscard]] Page pageOf(int from, int to) const {
        Page page;
        page.firstBar = from;
        page.barCount = to - from;
        page.start = barStart(from);
        page.end = barStart(to);
        const auto& notes = content.score.notes;
        const auto first = std::partition_point(
            notes.begin(), notes.end(), [&](const ScoreNote& note) { return note.onset < page.start; });
        const auto last = std::partition_point(first, notes.end(),
                                               [&](const ScoreNote& note) { return note.onset < page.end; });
        page.firstNote = static_cast<int>(first - notes.begin());
        page.noteCount = static_cast<int>(last - first);
        return page;
    }

    const SheetContent& content;
    double width;
    std::vector<double> texts;
};

} // namespace

std::vector<MusicLine> musicLines(const SheetContent& content, double width) {
    return Breaker(content, width).lines();
}

double roughWidth(TextStyle style, const std::string& text) {
    return letterShare * textHeight(style) * static_cast<double>(text.size());
}

} // namespace valveladder
