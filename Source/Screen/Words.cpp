#include "Screen/Words.h"

#include <fmt/format.h>

#include <cmath>

namespace valveladder::words {

std::string tempoLine(const SessionView& view) {
    const double planned = view.setup->planned.bpm;
    if (view.bpm <= 0.0)
        return fmt::format("Planned {:.4g} bpm", planned);
    return fmt::format("Planned {:.4g} bpm, now {:.4g} bpm", planned, view.bpm);
}

std::string clockLine(const SessionView& view) {
    switch (view.clock) {
    case Clock::host:
        return view.playing ? "The host's clock leads"
                            : "The host stands still: start it, or use our own clock";
    case Clock::own:
        return "Our own clock leads";
    case Clock::link:
        return "Ableton Link leads";
    case Clock::none:
        break;
    }
    return "No clock: start the host, or use our own clock";
}

std::string takeState(const SessionView& view) {
    if (view.inTake)
        return "Take is running";
    switch (view.way) {
    case TakeWay::recordingPass:
        return view.recording ? "Recording: the take begins after the count-in" : "Record to make a take";
    case TakeWay::loopPass:
        return "Each pass of the host's loop is a take";
    case TakeWay::playing:
        return "Start and play: that is a take";
    case TakeWay::marker:
        return "A mark begins a take";
    case TakeWay::hand:
        break;
    }
    return "Press Take to begin one";
}

std::string place(const Score& score, std::size_t note) {
    if (note >= score.notes.size())
        return "The drill is over";
    const ScoreNote& now = score.notes[note];
    return fmt::format("{}, segment {} of {}: {}", score.rungLabels[static_cast<std::size_t>(now.rung)],
                       now.segment + 1, score.segmentNames.size(),
                       score.segmentNames[static_cast<std::size_t>(now.segment)]);
}

namespace {

std::string faultsOf(const TakeSummary& take) {
    std::string text;
    const auto add = [&text](int count, const char* what) {
        if (count > 0)
            text += fmt::format("{}{} {}", text.empty() ? "" : ", ", count, what);
    };
    add(take.wrong, "wrong");
    add(take.missed, "missed");
    add(take.extra, "extra");
    add(take.breaths, take.breaths == 1 ? "breath" : "breaths");
    return text.empty() ? "none" : text;
}

std::string verdictOf(const TakeSummary& take) {
    if (take.state != TakeState::whole)
        return "partial";
    if (take.expected == 0)
        return "kept, not measured";
    if (take.passed)
        return take.clean ? "passed, clean" : "passed";
    return "not passed";
}

} // namespace

TakeLine takeLine(const TakeSummary& take) {
    TakeLine line;
    line.tempo = fmt::format("{:.4g}", take.playedBpm);
    if (std::abs(take.playedBpm - take.header.plannedBpm) >= 0.05)
        line.tempo += fmt::format(" (planned {:.4g})", take.header.plannedBpm);
    line.notes = fmt::format("{}/{}", take.right, take.expected);
    line.faults = faultsOf(take);
    line.even = take.worstIoiSpreadPercent ? fmt::format("{:.1f} %", *take.worstIoiSpreadPercent) : "-";
    line.verdict = verdictOf(take);
    return line;
}

} // namespace valveladder::words
