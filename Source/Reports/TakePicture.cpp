#include "Reports/TakePicture.h"

#include "Base/Inks.h"
#include "Findings/FingersApart.h"
#include "Reports/SvgPicture.h"
#include "Valves/Spelling.h"
#include "Words/FingerOrderWords.h"
#include "Words/NoteSigns.h"
#include "Words/ReportWords.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <fmt/format.h>
#include <functional>
#include <map>
#include <set>
#include <vector>

namespace valveladder {

namespace {

using Kind = NoteSign::Kind;

// Measures of the picture, in its own units.
constexpr double leastNoteWidth = 46.0; ///< holds "+163" in its capsule
constexpr double betweenNotes = 8.0;    ///< from one fingering or figure to the next
constexpr double leastCellWidth = 250.0;
constexpr double labelWidth = 104.0;
constexpr double dotsHeight = 96.0;
constexpr double panelGap = 16.0; ///< dots and bars have scales of their own
constexpr double barsHeight = 44.0;
constexpr double signHeight = 26.0;
constexpr double nameHeight = 16.0;
constexpr double asideHeight = 26.0;
constexpr double cellHead = 20.0;
constexpr double cellGap = 22.0;
constexpr double headHeight = 94.0;
constexpr double legendLine = 24.0;
constexpr double legendGap = 22.0; ///< from one entry to the next
constexpr double edge = 16.0;
constexpr double signSize = 14.0;
constexpr double nameSize = 12.0; ///< of fingerings, figures and legend
constexpr double scaleSize = 11.0;

/// Full scales that are easy to read.
constexpr std::array<double, 7> niceMs{10.0, 20.0, 50.0, 100.0, 200.0, 500.0, 1000.0};

double niceAbove(double value) {
    const auto found = std::ranges::lower_bound(niceMs, value);
    return found == niceMs.end() ? niceMs.back() : *found;
}

std::uint32_t inkOf(Kind kind) {
    return isFault(kind) ? inks::wrong : inks::right;
}

/// What is told of a note beside its sign, and of the change into it.
struct Beside {
    std::vector<NoteAside> asides;
    std::vector<ReportKind> reports;
    const ChangeResult* into = nullptr;
};

class Picture {
public:
    Picture(const Performance& performance, const Score& s, const Instrument& played)
        : take(performance), score(s), instrument(played) {
        double deviation = 0.0;
        double changeover = 0.0;
        for (const NoteResult& note : take.notes)
            deviation = std::max(deviation, std::abs(note.deviationMs.value_or(0.0)));
        for (const ChangeResult& change : take.changes)
            changeover = std::max(changeover, change.changeoverMs.value_or(0.0));
        fullDeviation = niceAbove(deviation);
        fullChangeover = niceAbove(changeover);
        readBeside();
        measure();
    }

    std::string draw(const PictureText& words) {
        const double width = labelWidth + segments * (cellWidth + cellGap);
        head(words);
        for (const ScoreSpan& span : score.spans)
            cell(span);
        double foot = headHeight + rungs * cellHeight + legendLine / 2.0;
        for (const LegendLine& line : legendWithin(width - 2.0 * edge)) {
            drawLegend(line, foot);
            foot += legendLine;
        }
        return canvas.document(width, foot, words.title + ". " + words.subtitle);
    }

private:
    struct Place {
        double x = 0.0;   ///< left edge of the cell
        double top = 0.0; ///< of its dots
        [[nodiscard]] double zero() const { return top + dotsHeight / 2.0; }
        [[nodiscard]] double barsFoot() const { return top + dotsHeight + panelGap + barsHeight; }
        [[nodiscard]] double signs() const { return barsFoot() + signHeight / 2.0; } ///< their middle
        [[nodiscard]] double names() const { return barsFoot() + signHeight + nameSize; }
        [[nodiscard]] double asides() const {
            return barsFoot() + signHeight + nameHeight + asideHeight / 2.0;
        }
    };

    /// A mark and what it means; without a mark where the words show it themselves.
    struct LegendEntry {
        std::function<void(double x, double y)> mark;
        std::string words;
        [[nodiscard]] double textFrom() const { return mark ? signSize + 6.0 : 0.0; }
        [[nodiscard]] double width() const { return textFrom() + SvgPicture::textWidth(words, nameSize); }
    };
    using LegendLine = std::vector<LegendEntry>;

    void readBeside() {
        for (const NoteReport& report : reportsOf(take))
            beside[report.note].reports.push_back(report.kind);
        for (const ChangeResult& change : take.changes)
            beside[change.toIndex].into = &change;
        for (auto& [note, told] : beside)
            told.asides = noteAsides(told.reports, told.into ? cameLate(*told.into) : Combination());
    }

    void measure() {
        double noteWidth = leastNoteWidth;
        for (const ScoreNote& note : score.notes)
            noteWidth = std::max(
                noteWidth,
                betweenNotes + SvgPicture::textWidth(instrument.combinationName(note.combination), nameSize));
        for (const ScoreSpan& span : score.spans) {
            rungs = std::max(rungs, span.rung + 1);
            segments = std::max(segments, span.segment + 1);
            cellWidth = std::max(cellWidth, noteWidth * span.noteCount);
        }
        const bool anyUnder = std::ranges::any_of(beside, [](const auto& note) {
            return std::ranges::any_of(note.second.asides,
                                       [](NoteAside aside) { return aside != NoteAside::breath; });
        });
        cellHeight = cellHead + dotsHeight + panelGap + barsHeight + signHeight + nameHeight +
                     (anyUnder ? asideHeight : 0.0) + cellGap;
    }

    [[nodiscard]] Place placeOf(const ScoreSpan& span) const {
        return {labelWidth + span.segment * (cellWidth + cellGap),
                headHeight + (rungs - 1 - span.rung) * cellHeight + cellHead};
    }
    [[nodiscard]] double step(const ScoreSpan& span) const { return cellWidth / std::max(1, span.noteCount); }
    [[nodiscard]] double xOf(const ScoreSpan& span, int index) const {
        return placeOf(span).x + (index - span.firstNote + 0.5) * step(span);
    }
    /// Of the change into a note, between it and the one before.
    [[nodiscard]] double xInto(const ScoreSpan& span, int index) const {
        return xOf(span, index) - step(span) / 2.0;
    }
    [[nodiscard]] double yOf(const Place& place, double deviationMs) const {
        const double share = std::clamp(deviationMs / fullDeviation, -1.0, 1.0);
        return place.zero() - share * (dotsHeight / 2.0 - SvgPicture::dotRadius);
    }
    [[nodiscard]] static bool within(const ScoreSpan& span, int index) {
        return index >= span.firstNote && index < span.firstNote + span.noteCount;
    }
    [[nodiscard]] std::string nameOf(int index) const {
        const ScoreNote& note = score.notes[static_cast<std::size_t>(index)];
        return fmt::format("{} ({})", writtenName(instrument, note.written),
                           instrument.combinationName(note.combination));
    }
    [[nodiscard]] static NoteSign signOfNote(const NoteResult& note) {
        return noteSign(note.outcome, note.split, note.deviationMs);
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
        for (int i = span.firstNote; i < span.firstNote + span.noteCount; ++i)
            canvas.text(xOf(span, i), p.names(), nameSize, "middle",
                        instrument.combinationName(score.notes[static_cast<std::size_t>(i)].combination));
        for (const NoteResult& note : take.notes)
            if (within(span, note.index)) {
                drawNote(span, note);
                drawSign(span, note);
            }
        for (const auto& [note, told] : beside)
            if (within(span, note)) {
                drawChange(span, note, told);
                drawBeside(span, note, told);
            }
    }

    void labels(const ScoreSpan& span, const Place& p) {
        const auto rung = static_cast<std::size_t>(span.rung);
        const auto scale = [&](double y, const std::string& words) {
            canvas.text(labelWidth - 8.0, y, scaleSize, "end", words);
        };
        canvas.text(8.0, p.top - 6.0, 13.0, "start",
                    rung < score.rungLabels.size() ? score.rungLabels[rung]
                                                   : fmt::format("rung {}", span.rung + 1),
                    SvgPicture::bold);
        scale(p.top + scaleSize, fmt::format("{:g} ms late", fullDeviation));
        scale(p.zero() + 4.0, "0");
        scale(p.top + dotsHeight - 2.0, fmt::format("{:g} ms early", fullDeviation));
        scale(p.barsFoot() - barsHeight + scaleSize, fmt::format("{:g} ms", fullChangeover));
        scale(p.barsFoot(), "0");
    }

    void drawNote(const ScoreSpan& span, const NoteResult& note) {
        if (note.outcome == Outcome::missed)
            return;
        std::string told = nameOf(note.index) + ": ";
        if (note.outcome == Outcome::wrong)
            told += writtenName(instrument, instrument.written(note.played)) + " heard, ";
        told += note.deviationMs ? fmt::format("{:+.1f} ms", *note.deviationMs) : "no deviation measured";
        canvas.dot(xOf(span, note.index), yOf(placeOf(span), note.deviationMs.value_or(0.0)),
                   isFault(signOfNote(note).kind) ? inks::wrong : inks::ink, told);
    }

    /// A figure stands in a capsule where there is room for it.
    void drawSign(const ScoreSpan& span, const NoteResult& note) {
        const NoteSign sign = signOfNote(note);
        const double x = xOf(span, note.index), y = placeOf(span).signs();
        const std::uint32_t ink = inkOf(sign.kind);
        const std::string told = nameOf(note.index) + ": " + words::signInWords(sign);
        kinds.insert(sign.kind == Kind::early ? Kind::late : sign.kind); // one entry for both
        if (sign.text.empty())
            return canvas.sign(signOf(sign.kind), x, y, signSize, ink, told);
        const double width = SvgPicture::textWidth(sign.text, nameSize) + betweenNotes;
        if (width + 2.0 <= step(span))
            canvas.capsule(x, y, width, 18.0, ink, sign.text, told);
        else
            canvas.text(x, y + 4.0, nameSize, "middle", sign.text, SvgPicture::bold, ink);
    }

    void drawChange(const ScoreSpan& span, int note, const Beside& told) {
        if (!told.into || !told.into->changeoverMs)
            return;
        const ChangeResult& change = *told.into;
        const double share = std::clamp(*change.changeoverMs / fullChangeover, 0.0, 1.0);
        const double height = std::max(1.0, share * barsHeight);
        const double width = std::min(12.0, 0.5 * step(span));
        canvas.bar(xInto(span, note) - width / 2.0, placeOf(span).barsFoot() - height, width, height,
                   inks::brass,
                   fmt::format("{}: {:.0f} ms", changeName(change.change, instrument.thumbValve),
                               *change.changeoverMs));
    }

    /// A breath over the dots, where it was taken; what concerns notes and valves under the fingering.
    void drawBeside(const ScoreSpan& span, int note, const Beside& told) {
        const Place p = placeOf(span);
        constexpr double place = signSize + 3.0;
        const auto under = std::ranges::count_if(told.asides, [](NoteAside aside) {
            return aside == NoteAside::extra || aside == NoteAside::valves;
        });
        double x = xOf(span, note) - place * static_cast<double>(under - 1) / 2.0;
        for (const NoteAside aside : told.asides) {
            asides.insert(aside);
            if (aside == NoteAside::lateFinger) {
                drawLateFingers(xInto(span, note) - (under > 0 ? signSize / 2.0 : 0.0), p.asides(),
                                *told.into);
                continue;
            }
            const bool breath = aside == NoteAside::breath;
            canvas.sign(signOf(aside), breath ? xInto(span, note) : x, breath ? p.top - 10.0 : p.asides(),
                        signSize, inks::wrong, nameOf(note) + ": " + besideInWords(aside, note));
            x += breath ? 0.0 : place;
        }
    }

    [[nodiscard]] std::string besideInWords(NoteAside aside, int note) const {
        if (aside != NoteAside::extra)
            return inWords(aside == NoteAside::breath ? ReportKind::breath : ReportKind::valves);
        return heardBesides(note, take, instrument);
    }

    /// A valve with its number for each finger that came after the others.
    void drawLateFingers(double middle, double y, const ChangeResult& change) {
        constexpr double width = 15.0, height = 20.0, place = width + 2.0;
        const std::string told = "finger " + fingersApartInWords(change, instrument.thumbValve);
        double x = middle - place * (change.lateFingers.count() - 1) / 2.0;
        for (int finger = 1; finger <= maxValves; ++finger) {
            if (!change.lateFingers.has(finger))
                continue;
            canvas.capsule(x, y, width, height, inks::wrong, valveName(finger, instrument.thumbValve), told);
            x += place;
        }
    }

    /// In lines of at most `width`: what is measured, then the signs that stand in the picture.
    [[nodiscard]] std::vector<LegendLine> legendWithin(double width) {
        std::vector<LegendLine> lines;
        for (LegendLine& part : std::array{measuresLegend(), signsLegend()}) {
            double x = width;
            for (LegendEntry& entry : part) {
                if (x + entry.width() > width) {
                    lines.emplace_back();
                    x = 0.0;
                }
                x += entry.width() + legendGap;
                lines.back().push_back(std::move(entry));
            }
        }
        return lines;
    }

    [[nodiscard]] LegendLine measuresLegend() {
        const auto dot = [this](double x, double y) { canvas.dot(x, y, inks::ink, ""); };
        const auto bar = [this](double x, double y) {
            canvas.bar(x - 5.0, y - 6.0, 10.0, 12.0, inks::brass, "");
        };
        return {{dot, "a note heard: above the line late, below early"},
                {bar, "changeover between two notes"}};
    }

    [[nodiscard]] LegendLine signsLegend() {
        const auto mark = [this](Sign sign, std::uint32_t ink) {
            return [this, sign, ink](double x, double y) { canvas.sign(sign, x, y, signSize, ink, ""); };
        };
        LegendLine entries;
        for (const Kind kind : kinds) {
            LegendEntry entry{nullptr, words::signMeaning(kind)};
            if (kind != Kind::late)
                entry.mark = mark(signOf(kind), inkOf(kind));
            entries.push_back(std::move(entry));
        }
        for (const NoteAside aside : asides)
            entries.push_back({mark(signOf(aside), inks::wrong), words::signMeaning(aside)});
        return entries;
    }

    void drawLegend(const LegendLine& line, double y) {
        double x = edge;
        for (const LegendEntry& entry : line) {
            if (entry.mark)
                entry.mark(x + signSize / 2.0, y);
            canvas.text(x + entry.textFrom(), y + 4.0, nameSize, "start", entry.words);
            x += entry.width() + legendGap;
        }
    }

    const Performance& take;
    const Score& score;
    const Instrument& instrument;
    SvgPicture canvas;
    std::map<int, Beside> beside; ///< by note
    std::set<Kind> kinds;         ///< drawn so far
    std::set<NoteAside> asides;
    int rungs = 1;
    int segments = 1;
    double cellWidth = leastCellWidth;
    double cellHeight = 0.0;
    double fullDeviation = niceMs.front();
    double fullChangeover = niceMs.front();
};

} // namespace

std::string takePicture(const Performance& played, const Score& score, const Instrument& instrument,
                        const PictureText& text) {
    return Picture(played, score, instrument).draw(text);
}

} // namespace valveladder
