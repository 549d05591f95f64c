#include "Reports/TakePicture.h"

#include "Base/Inks.h"
#include "Reports/SvgPicture.h"
#include "Valves/Spelling.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <fmt/format.h>
#include <map>

namespace valveladder {

namespace {

// Measures of the picture, in its own units.
constexpr double noteWidth = 34.0;
constexpr double leastCellWidth = 250.0;
constexpr double labelWidth = 96.0;
constexpr double dotsHeight = 96.0;
constexpr double barsHeight = 44.0;
constexpr double textHeight = 16.0;
constexpr double cellHead = 20.0;
constexpr double cellGap = 22.0;
constexpr double headHeight = 94.0;
constexpr double legendHeight = 84.0;
constexpr double cellHeight = cellHead + dotsHeight + barsHeight + textHeight + cellGap;

/// Full scales that are easy to read.
constexpr std::array<double, 7> niceMs{10.0, 20.0, 50.0, 100.0, 200.0, 500.0, 1000.0};

double niceAbove(double value) {
    const auto found = std::ranges::lower_bound(niceMs, value);
    return found == niceMs.end() ? niceMs.back() : *found;
}

class Picture {
public:
    Picture(const Performance& performance, const Score& s, const Instrument& played)
        : take(performance), score(s), instrument(played) {
        for (const ScoreSpan& span : score.spans) {
            rungs = std::max(rungs, span.rung + 1);
            segments = std::max(segments, span.segment + 1);
            cellWidth = std::max(cellWidth, noteWidth * span.noteCount);
        }
        double deviation = 0.0;
        double changeover = 0.0;
        for (const NoteResult& note : take.notes)
            deviation = std::max(deviation, std::abs(note.deviationMs.value_or(0.0)));
        for (const ChangeResult& change : take.changes)
            changeover = std::max(changeover, change.changeoverMs.value_or(0.0));
        fullDeviation = niceAbove(deviation);
        fullChangeover = niceAbove(changeover);
    }

    std::string draw(const PictureText& words) {
        const double width = labelWidth + segments * (cellWidth + cellGap);
        const double height = headHeight + rungs * cellHeight + legendHeight;
        head(words);
        for (const ScoreSpan& span : score.spans)
            cell(span);
        for (const ExtraNote& extra : take.extras)
            drawExtra(extra);
        legend(height - legendHeight + 14.0);
        return canvas.document(width, height, words.title + ". " + words.subtitle);
    }

private:
    struct Place {
        double x = 0.0;   ///< left edge of the cell
        double top = 0.0; ///< of its dots
        [[nodiscard]] double zero() const { return top + dotsHeight / 2.0; }
        [[nodiscard]] double barsFoot() const { return top + dotsHeight + barsHeight; }
    };

    [[nodiscard]] Place placeOf(const ScoreSpan& span) const {
        return {labelWidth + span.segment * (cellWidth + cellGap),
                headHeight + (rungs - 1 - span.rung) * cellHeight + cellHead};
    }
    [[nodiscard]] double step(const ScoreSpan& span) const { return cellWidth / std::max(1, span.noteCount); }
    [[nodiscard]] double xOf(const ScoreSpan& span, int index) const {
        return placeOf(span).x + (index - span.firstNote + 0.5) * step(span);
    }
    [[nodiscard]] double yOf(const Place& place, double deviationMs) const {
        const double share = std::clamp(deviationMs / fullDeviation, -1.0, 1.0);
        return place.zero() - share * (dotsHeight / 2.0 - SvgPicture::dotRadius);
    }
    [[nodiscard]] bool known(int index) const {
        return index >= 0 && static_cast<std::size_t>(index) < score.notes.size();
    }
    [[nodiscard]] const ScoreSpan& spanOf(int index) const {
        return score.spans[static_cast<std::size_t>(score.notes[static_cast<std::size_t>(index)].span)];
    }

    void head(const PictureText& words) {
        canvas.text(12.0, 26.0, 18.0, "start", words.title, SvgPicture::bold);
        canvas.bar(12.0, 34.0, 48.0, 4.0, inks::brass, "");
        canvas.text(12.0, 58.0, 14.0, "start", words.subtitle);
        for (int s = 0; s < segments; ++s) {
            const auto i = static_cast<std::size_t>(s);
            canvas.text(labelWidth + s * (cellWidth + cellGap), headHeight - 8.0, 13.0, "start",
                        i < score.segmentNames.size() ? score.segmentNames[i]
                                                      : fmt::format("segment {}", s + 1),
                        SvgPicture::bold);
        }
    }

    void cell(const ScoreSpan& span) {
        const Place p = placeOf(span);
        const double right = p.x + cellWidth;
        canvas.line(p.x, p.zero(), right, p.zero(), inks::ink, 1.5);
        canvas.line(p.x, p.top, right, p.top, inks::rule, 0.5);
        canvas.line(p.x, p.barsFoot(), right, p.barsFoot(), inks::rule);
        if (span.segment == 0)
            labels(span, p);
        for (int i = span.firstNote; i < span.firstNote + span.noteCount; ++i) {
            const ScoreNote& note = score.notes[static_cast<std::size_t>(i)];
            canvas.text(xOf(span, i), p.barsFoot() + textHeight - 2.0, 12.0, "middle",
                        instrument.combinationName(note.combination));
        }
        for (const NoteResult& note : take.notes)
            if (known(note.index) && &spanOf(note.index) == &span)
                drawNote(span, note);
        for (const ChangeResult& change : take.changes)
            if (known(change.toIndex) && &spanOf(change.toIndex) == &span)
                drawChange(span, change);
    }

    void labels(const ScoreSpan& span, const Place& p) {
        const auto rung = static_cast<std::size_t>(span.rung);
        const double x = labelWidth - 8.0;
        canvas.text(8.0, p.top - 6.0, 13.0, "start",
                    rung < score.rungLabels.size() ? score.rungLabels[rung]
                                                   : fmt::format("rung {}", span.rung + 1),
                    SvgPicture::bold);
        canvas.text(x, p.top + 11.0, 11.0, "end", fmt::format("+{:g} ms", fullDeviation));
        canvas.text(x, p.zero() + 4.0, 11.0, "end", "0");
        canvas.text(x, p.top + dotsHeight - 2.0, 11.0, "end", fmt::format("-{:g} ms", fullDeviation));
        canvas.text(x, p.top + dotsHeight + 14.0, 11.0, "end", fmt::format("{:g} ms", fullChangeover));
        canvas.text(x, p.barsFoot(), 11.0, "end", "0");
    }

    void drawNote(const ScoreSpan& span, const NoteResult& note) {
        const ScoreNote& asked = score.notes[static_cast<std::size_t>(note.index)];
        const Place p = placeOf(span);
        const double x = xOf(span, note.index);
        const std::string name = fmt::format("{} ({})", writtenName(instrument, asked.written),
                                             instrument.combinationName(asked.combination));
        if (note.outcome == Outcome::missed) {
            canvas.box(x, p.zero(), inks::wrong, name + ": missed");
            return;
        }
        const double y = yOf(p, note.deviationMs.value_or(0.0));
        const std::string off =
            note.deviationMs ? fmt::format("{:+.1f} ms", *note.deviationMs) : "no deviation measured";
        if (note.outcome == Outcome::wrong)
            canvas.cross(x, y, inks::wrong,
                         fmt::format("{}: {} heard, {}", name,
                                     writtenName(instrument, instrument.written(note.played)), off));
        else
            canvas.dot(x, y, inks::ink, name + ": " + off);
        if (note.split)
            canvas.ring(x, y, inks::brass, name + ": split");
        if (note.breathBefore)
            canvas.tick(x - step(span) / 2.0, p.top + 10.0, inks::ink, name + ": breath before it");
    }

    void drawExtra(const ExtraNote& extra) {
        if (!known(extra.nearIndex))
            return;
        const ScoreSpan& span = spanOf(extra.nearIndex);
        const double x = std::min(xOf(span, extra.nearIndex) + step(span) / 2.0, placeOf(span).x + cellWidth);
        canvas.plus(x, placeOf(span).top + dotsHeight - 8.0, inks::brass,
                    writtenName(instrument, instrument.written(extra.played)) + " heard besides");
    }

    void drawChange(const ScoreSpan& span, const ChangeResult& change) {
        if (!change.changeoverMs)
            return;
        const Place p = placeOf(span);
        const double height =
            std::max(1.0, std::clamp(*change.changeoverMs / fullChangeover, 0.0, 1.0) * (barsHeight - 6.0));
        const double width = std::min(12.0, 0.5 * step(span));
        // A change lies between two notes.
        const double x = xOf(span, change.toIndex) - step(span) / 2.0 - width / 2.0;
        canvas.bar(x, p.barsFoot() - height, width, height, inks::brass,
                   fmt::format("{} to {}: {:.0f} ms", instrument.combinationName(change.change.from),
                               instrument.combinationName(change.change.to), *change.changeoverMs));
    }

    void legend(double y) {
        constexpr double lineHeight = 24.0;
        constexpr double left = 16.0;
        double x = left;
        const auto entry = [&](const std::string& words) {
            canvas.text(x + 14.0, y + 4.0, 12.0, "start", words);
            x += 34.0 + 7.0 * static_cast<double>(words.size());
        };
        const auto newLine = [&] {
            x = left;
            y += lineHeight;
        };
        canvas.dot(x, y, inks::ink, "");
        entry("right: above the line late, below early");
        newLine();
        canvas.cross(x, y, inks::wrong, "");
        entry("wrong");
        canvas.box(x, y, inks::wrong, "");
        entry("missed");
        canvas.ring(x, y, inks::brass, "");
        entry("split");
        canvas.plus(x, y, inks::brass, "");
        entry("extra");
        canvas.tick(x, y, inks::ink, "");
        entry("breath");
        newLine();
        canvas.bar(x - 5.0, y - 6.0, 10.0, 12.0, inks::brass, "");
        entry("changeover between two notes; below, the valves");
    }

    const Performance& take;
    const Score& score;
    const Instrument& instrument;
    SvgPicture canvas;
    int rungs = 1;
    int segments = 1;
    double cellWidth = leastCellWidth;
    double fullDeviation = 10.0;
    double fullChangeover = 10.0;
};

} // namespace

std::string takePicture(const Performance& played, const Score& score, const Instrument& instrument,
                        const PictureText& text) {
    return Picture(played, score, instrument).draw(text);
}

} // namespace valveladder
