#include "Console/TakeText.h"

#include "Base/RobustStatistics.h"
#include "Base/Sentence.h"
#include "Console/Help.h"
#include "Console/TimeText.h"
#include "Findings/FingersApart.h"
#include "Review/LoggedScore.h"
#include "Valves/Spelling.h"
#include "Words/FingerOrderWords.h"
#include "Words/RemarkWords.h"
#include "Words/ReportWords.h"
#include "Words/SessionWords.h"
#include "Words/TempoWords.h"

#include <algorithm>
#include <functional>
#include <map>

namespace valveladder::console {

namespace {

/// "4.2 (3.1-6.0)"; large values without decimals, so that columns hold.
std::string figure(const std::optional<Estimate>& estimate, int decimals) {
    constexpr double large = 100.0;
    if (!estimate)
        return "-";
    return fmt::format("{0:.{3}f} ({1:.{3}f}-{2:.{3}f})", estimate->value, estimate->low, estimate->high,
                       estimate->high < large ? decimals : 0);
}

/// Empty where there is none.
std::string nameAt(const std::vector<std::string>& names, int index) {
    const bool known = index >= 0 && static_cast<std::size_t>(index) < names.size();
    return known ? names[static_cast<std::size_t>(index)] : "";
}

std::string rungName(const std::optional<TakeScore>& from, int rung) {
    return rungInWords(from ? nameAt(from->score.rungLabels, rung) : "", rung);
}

std::string segmentName(const std::optional<TakeScore>& from, int segment) {
    return segmentInWords(from ? nameAt(from->score.segmentNames, segment) : "", segment);
}

/// `text` in at most `columns` characters of UTF-8.
std::string cut(const std::string& text, std::size_t columns) {
    std::size_t at = 0;
    for (std::size_t shown = 0; at < text.size() && shown < columns; ++shown)
        do
            ++at;
        while (at < text.size() && (static_cast<unsigned char>(text[at]) & 0xC0) == 0x80);
    return text.substr(0, at);
}

void printSegments(Tool& tool, const Performance& played, const std::optional<TakeScore>& from) {
    constexpr std::size_t rungColumns = 8;
    constexpr std::size_t segmentColumns = 16;
    constexpr const char* row = "{:<9}{:<17}{:>6}{:>3}{:>3}{:>3}{:>3}  {:<17}{}\n";
    int clean = 0;
    tool.print(fmt::runtime(row), "rung", "segment", "right", "w", "m", "x", "b", "spread, %",
               "long to short");
    for (const SegmentResult& segment : played.segments) {
        clean += segment.clean ? 1 : 0;
        tool.print(fmt::runtime(row), cut(rungName(from, segment.rung), rungColumns),
                   cut(segmentName(from, segment.segment), segmentColumns),
                   fmt::format("{}/{}", segment.right, segment.expected), segment.wrong, segment.missed,
                   segment.extra, segment.breaths, figure(segment.ioiSpreadPercent, 1),
                   figure(segment.longShortRatio, 2));
    }
    tool.print("w wrong, m missed, x extra, b breaths; figures with their 90 % interval\n"
               "{} of {} segments clean\n",
               clean, played.segments.size());
}

/// The slowest changes by the median of their changeovers, where any were measured.
void printChangeovers(Tool& tool, const Performance& played, const std::optional<TakeScore>& from) {
    constexpr std::size_t most = 6;
    std::map<Change, std::vector<double>> times;
    for (const ChangeResult& change : played.changes)
        if (change.changeoverMs)
            times[change.change].push_back(*change.changeoverMs);
    std::vector<std::pair<double, Change>> slowest;
    for (const auto& [change, ms] : times)
        slowest.emplace_back(median(ms), change);
    if (slowest.empty())
        return;
    std::ranges::sort(slowest, std::greater{});
    slowest.resize(std::min(slowest.size(), most));
    tool.print("Slowest changes, median ms (how many):");
    for (const auto& [ms, change] : slowest)
        tool.print("\n  {}: {:.0f} ({})", changeName(change, from && from->instrument.thumbValve), ms,
                   times[change].size());
    tool.print("\n");
}

/// Fingers that came one after the other in a change.
void printFingersApart(Tool& tool, const Performance& played, const std::optional<TakeScore>& from) {
    constexpr std::size_t most = 6;
    auto list = fingersApart(played);
    list.resize(std::min(list.size(), most));
    if (list.empty())
        return;
    tool.print("Fingers apart, median (how many of the changes measured):\n");
    for (const FingersApart& apart : list)
        tool.print("  {}\n", inWords(apart, from && from->instrument.thumbValve));
}

std::string place(const TakeScore& from, const ScoreNote& note) {
    const ScoreSpan& span = from.score.spans[static_cast<std::size_t>(note.span)];
    const auto index = &note - from.score.notes.data();
    return fmt::format("{}, {}, note {}", rungName(from, note.rung), segmentName(from, note.segment),
                       index - span.firstNote + 1);
}

/// How a split note spoke: its other sound is the extra note beside it.
std::string howItSpoke(const NoteResult& note, const std::vector<ExtraNote>& extras,
                       const Instrument& instrument) {
    if (note.crackedMs)
        return fmt::format("cracked: {} for {:.0f} ms first",
                           writtenName(instrument, instrument.written(note.crackedThrough)), *note.crackedMs);
    for (const ExtraNote& extra : extras)
        if (extra.nearIndex == note.index && extra.played != note.played)
            return "spoke through " + writtenName(instrument, instrument.written(extra.played));
    return "spoke twice";
}

/// What was reported of a note, in some words.
std::string inWords(const NoteReport& report, const Performance& heard, const TakeScore& from) {
    const ScoreNote& note = from.score.notes[static_cast<std::size_t>(report.note)];
    const Instrument& instrument = from.instrument;
    const std::string expected = fmt::format("{} ({})", writtenName(instrument, note.written),
                                             instrument.combinationName(note.combination));
    const auto result = std::ranges::find(heard.notes, report.note, &NoteResult::index);
    switch (report.kind) {
    case ReportKind::wrong:
        return fmt::format("{} expected, {} heard", expected,
                           writtenName(instrument, instrument.written(result->played)));
    case ReportKind::missed:
        return expected + " missed";
    case ReportKind::split:
    case ReportKind::cracked:
        return expected + " " + howItSpoke(*result, heard.extras, instrument);
    case ReportKind::breath:
        return "a breath before " + expected;
    case ReportKind::valves:
        return expected + " with other valves";
    case ReportKind::extra:
        break;
    }
    return heardBesides(report.note, heard, instrument);
}

void printReports(Tool& tool, const char* title, const std::vector<NoteReport>& reports,
                  const Performance& heard, const TakeScore& from, int most) {
    if (!reports.empty())
        tool.print("\n{}\n", title);
    for (std::size_t i = 0; i < reports.size() && static_cast<int>(i) < most; ++i) {
        const NoteReport& report = reports[i];
        const std::string sure = sureness(likelihoodOf(heard, report));
        tool.print("{:>4}  {}: {}{}\n", report.note + 1,
                   place(from, from.score.notes[static_cast<std::size_t>(report.note)]),
                   inWords(report, heard, from), sure.empty() ? "" : ", " + sure);
    }
    if (static_cast<int>(reports.size()) > most)
        tool.print("  and {} more\n", reports.size() - static_cast<std::size_t>(most));
}

/// What was reported, by the number of its note; what the player says was right stands apart.
void printMistakes(Tool& tool, const TakeRecord& take, const Performance& heard, const TakeScore& from,
                   int most) {
    std::vector<NoteReport> standing;
    std::vector<NoteReport> saidRight;
    for (const NoteReport& report : reportsOf(heard)) {
        if (report.note < 0 || static_cast<std::size_t>(report.note) >= from.score.notes.size())
            continue;
        const bool right =
            std::ranges::find(take.corrections, report, &Correction::report) != take.corrections.end();
        (right ? saidRight : standing).push_back(report);
    }
    printReports(tool, "Not right (number of the note, written pitch):", standing, heard, from, most);
    printReports(tool, "Right, as the player says, though heard otherwise:", saidRight, heard, from, most);
}

void printHead(Tool& tool, const std::string& called, const TakeRecord& take) {
    const TakeHeader& header = take.header;
    tool.print("{}{}\n", sentence(called), inventedNote(header.invented));
    tool.printText(wrapped(oneLine(fmt::format("{}{}, {}", header.player.empty() ? "" : header.player + ", ",
                                               header.instrumentId, header.drillName)),
                           textWidth) +
                   "\n");
    tool.print("{} ({}), planned at {}, played at {} bpm: {}\n",
               localText(header.startedUtc, header.timeZone), zoneOrLocal(header.timeZone),
               words::tempoText(header.plannedBpm), words::tempoText(take.playedBpm), verdict(take));
    if (!take.playerNote.empty())
        tool.printText(wrapped(oneLine("Note: " + take.playerNote), textWidth) + "\n");
    for (const std::string& message : take.messages)
        tool.printText(wrapped(oneLine(message), textWidth) + "\n");
    tool.print("\n");
}

} // namespace

const char* inventedNote(bool invented) {
    return invented ? " (invented)" : "";
}

const char* verdict(const TakeSummary& take) {
    return words::verdict(take.state == TakeState::whole, take.passed, take.expected > 0);
}

const char* verdict(const TakeRecord& take) {
    return words::verdict(take.state == TakeState::whole, take.passed, take.performance.measured());
}

std::optional<TakeScore> scoreOf(const TakeRecord& take) {
    auto logged = loggedScore(take);
    if (!logged)
        return std::nullopt;
    return TakeScore{std::move(logged.value().instrument), std::move(logged.value().score)};
}

Result<std::string> takeName(const LogStore& log, const TakeHeader& take) {
    TakeFilter filter;
    filter.player = take.player;
    filter.fromUtc = take.startedUtc;
    filter.toUtc = take.startedUtc + 1;
    const auto begunThen = log.takes(filter);
    if (!begunThen)
        return begunThen.problem();
    const auto it =
        std::ranges::find(begunThen.value(), take.id, [](const TakeSummary& each) { return each.header.id; });
    if (it == begunThen.value().end())
        return "take " + shortId(take.id);
    return fmt::format("take {}", it->number);
}

std::string shortId(const std::string& id) {
    constexpr std::size_t shown = 8;
    return id.substr(0, shown);
}

void printTake(Tool& tool, const std::string& called, const TakeRecord& take, const Performance& heard,
               const std::optional<TakeScore>& from, int mistakes) {
    printHead(tool, called, take);
    const Performance& played = take.performance;
    printSegments(tool, played, from);
    if (played.asynchronyMs) {
        const Estimate& late = *played.asynchronyMs;
        const std::string source = take.roundTripFrom == RoundTripFrom::measured ? "measured" : "set by hand";
        tool.print("All of it {:+.0f} ms ({:+.0f} to {:+.0f}) against the guide, + is late; {}\n", late.value,
                   late.low, late.high,
                   take.roundTripMs
                       ? fmt::format("round trip of {:.1f} ms ({}) taken off", *take.roundTripMs, source)
                       : "no round trip taken off");
    }
    printChangeovers(tool, played, from);
    printFingersApart(tool, played, from);
    if (!take.soundFile.empty())
        tool.print("Its sound is kept beside the log: {}\n", take.soundFile);
    for (const Remark& remark : played.remarks)
        tool.printText(wrapped(oneLine(inWords(remark)), textWidth) + "\n");
    if (from)
        printMistakes(tool, take, heard, *from, mistakes);
}

} // namespace valveladder::console
