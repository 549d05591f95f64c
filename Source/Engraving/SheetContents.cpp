#include "Engraving/SheetContents.h"

#include "Engraving/PartLayout.h"
#include "Valves/Spelling.h"

#include <algorithm>
#include <fmt/format.h>

namespace valveladder {

namespace {

// The usual cautions, in short; README.md has them in full, with their sources.
const std::vector<std::string>& cautions() {
    static const std::vector<std::string> lines{"Stop when something hurts. Quick fingers need no hard grip; "
                                                "rest five minutes in each half hour, sooner when "
                                                "the lips tire.",
                                                "Brass is loud: protect your hearing, and follow the rules "
                                                "where you play. Pain or numbness that stays is a "
                                                "matter for a doctor."};
    return lines;
}

std::vector<NoteFingering> drillFingerings(const Score& score, const Instrument& instrument,
                                           const SheetOptions& options) {
    std::vector<NoteFingering> all;
    for (const ScoreNote& note : score.notes) {
        NoteFingering fingering{instrument.combinationName(note.combination), ""};
        if (const auto other = options.alternates ? printedAlternate(instrument, note) : std::nullopt)
            fingering.alternate = instrument.combinationName(*other);
        all.push_back(fingering);
    }
    return all;
}

std::vector<SheetLabel> drillLabels(const Score& score) {
    std::vector<SheetLabel> labels;
    for (const ScoreSpan& span : score.spans)
        labels.push_back({span.start,
                          span.segment == 0 ? score.rungLabels.at(static_cast<std::size_t>(span.rung)) : "",
                          fmt::format("{}. {}", span.segment + 1,
                                      score.segmentNames.at(static_cast<std::size_t>(span.segment)))});
    return labels;
}

std::vector<int> rungBars(const Score& score, const SheetLayout& layout) {
    std::vector<int> bars;
    for (std::size_t bar = 1; bar < layout.bars.size(); ++bar) {
        const int span = layout.bars[bar].span;
        if (span >= 0 && score.spans[static_cast<std::size_t>(span)].segment == 0)
            bars.push_back(static_cast<int>(bar));
    }
    return bars;
}

std::vector<NoteFingering> partFingerings(const Marking& marking, const LaidPart& laid,
                                          const Instrument& instrument) {
    std::vector<NoteFingering> all(laid.score.notes.size());
    for (const MarkedNote& marked : marking.notes) {
        const int at = marked.note - laid.firstNote;
        if (at < 0 || at >= static_cast<int>(all.size()))
            continue;
        NoteFingering& fingering = all[static_cast<std::size_t>(at)];
        fingering.usual = instrument.combinationName(marked.fingering.combination);
        const MidiNote written = laid.score.notes[static_cast<std::size_t>(at)].written;
        if (marked.rank > 0)
            fingering.alternate =
                instrument.combinationName(fingerings(instrument, written).front().combination);
    }
    return all;
}

void addSpots(SheetContent& content, const LaidPart& laid, const Marking& marking,
              std::span<const Spot> spots) {
    for (std::size_t i = 0; i < spots.size(); ++i) {
        content.endWords.push_back(fmt::format("{}   {}", i + 1, spots[i].words));
        if (spots[i].notes.empty())
            continue;
        const int note =
            marking.notes[static_cast<std::size_t>(spots[i].notes.front())].note - laid.firstNote;
        if (note >= 0 && note < static_cast<int>(laid.score.notes.size()))
            content.labels.push_back(
                {laid.score.notes[static_cast<std::size_t>(note)].onset, std::to_string(i + 1), ""});
    }
    std::stable_sort(content.labels.begin(), content.labels.end(),
                     [](const SheetLabel& a, const SheetLabel& b) { return a.tick < b.tick; });
}

} // namespace

Result<SheetContent> drillContent(const Score& score, const Drill& drill, const Instrument& instrument,
                                  double bpm, const SheetOptions& options) {
    Result<SheetLayout> layout =
        layOut(score, drill, options.names.value_or(writtenSpelling(drill, instrument)));
    if (!layout)
        return layout.problem();
    SheetContent content;
    content.score = score;
    content.instrument = instrument;
    content.layout = std::move(layout.value());
    content.title = options.title.empty() ? drill.name : options.title;
    content.heading = instrument.name;
    content.bpm = bpm;
    if (options.fingerings)
        content.fingerings = drillFingerings(score, instrument, options);
    content.labels = drillLabels(score);
    content.newLines = rungBars(score, content.layout);
    content.foot = cautions();
    return content;
}

Result<SheetContent> partContent(const Part& part, const Marking& marking, std::span<const Spot> spots,
                                 const Instrument& instrument, const std::string& title, int firstBar,
                                 int barCount) {
    const int bars = static_cast<int>(part.bars.size());
    Result<LaidPart> result = layOutPart(part, marking, firstBar, barCount < 0 ? bars - firstBar : barCount);
    if (!result)
        return result.problem();
    LaidPart& laid = result.value();
    SheetContent content;
    content.instrument = instrument;
    content.title = title.empty() ? part.name : title;
    content.heading = instrument.name;
    content.bpm = part.tempos.empty() ? 0.0 : part.bpmAt(part.bars[static_cast<std::size_t>(firstBar)].start);
    content.fingerings = partFingerings(marking, laid, instrument);
    addSpots(content, laid, marking, spots);
    content.newLines = laid.newLines;
    content.barNumbers = true;
    content.breathMarks = false;
    for (int bar = firstBar; bar < firstBar + static_cast<int>(laid.layout.bars.size()); ++bar)
        content.barNames.push_back(part.bars[static_cast<std::size_t>(bar)].number);
    content.score = std::move(laid.score);
    content.layout = std::move(laid.layout);
    return content;
}

} // namespace valveladder
