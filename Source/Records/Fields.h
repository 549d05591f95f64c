#pragma once

#include "Records/TakeRecord.h"
#include "Words/RemarkWords.h"

#include <concepts>
#include <string>
#include <type_traits>
#include <utility>
#include <vector>

namespace valveladder {

/// T or const T, so that one list of fields serves for reading and for writing.
template <typename T, typename U>
concept MaybeConst = std::same_as<std::remove_const_t<T>, U>;

// The fields of everything that is kept about a take, each listed once: JSON members, SQL columns and CSV
// headings all come from here (in SQL and CSV with underscores for capitals). `io` is called as
// io("name", field) in the order of the list. A new field needs a line here, a migration in Schema.cpp and a
// line in Resources/log.schema.json.

template <typename Io, MaybeConst<Estimate> T>
void fields(Io& io, T& estimate) {
    io("value", estimate.value);
    io("low", estimate.low);
    io("high", estimate.high);
    io("n", estimate.n);
}

template <typename Io, MaybeConst<Change> T>
void fields(Io& io, T& change) {
    io("from", change.from);
    io("to", change.to);
}

template <typename Io, MaybeConst<NoteResult> T>
void fields(Io& io, T& note) {
    io("scoreNote", note.index);
    io("outcome", note.outcome);
    io("played", note.played);
    io("onsetSeconds", note.onsetSeconds);
    io("offsetSeconds", note.offsetSeconds);
    io("deviationMs", note.deviationMs);
    io("rawDeviationMs", note.rawDeviationMs);
    io("ioiResidualMs", note.ioiResidualMs);
    io("cents", note.cents);
    io("centsFromPrediction", note.centsFromPrediction);
    io("loudnessDb", note.loudnessDb);
    io("split", note.split);
    io("breathBefore", note.breathBefore);
    io("valvesWrong", note.valvesWrong);
    io("crackedMs", note.crackedMs);
    io("crackedThrough", note.crackedThrough);
    io("likelihood", note.likelihood);
}

template <typename Io, MaybeConst<ExtraNote> T>
void fields(Io& io, T& extra) {
    io("nearNote", extra.nearIndex);
    io("played", extra.played);
    io("onsetSeconds", extra.onsetSeconds);
    io("offsetSeconds", extra.offsetSeconds);
    io("likelihood", extra.likelihood);
}

template <typename Io, MaybeConst<ChangeResult> T>
void fields(Io& io, T& result) {
    io("toNote", result.toIndex);
    io("valves", result.change);
    io("slurred", result.slurred);
    io("changeoverMs", result.changeoverMs);
    io("gapMs", result.gapMs);
    io("fromSensors", result.fromSensors);
    io("fingerMs", result.fingerMs);
    io("lateFingers", result.lateFingers);
    io("lateByMs", result.lateByMs);
    io("lateLikelihood", result.lateLikelihood);
}

template <typename Io, MaybeConst<SegmentResult> T>
void fields(Io& io, T& segment) {
    io("span", segment.span);
    io("rung", segment.rung);
    io("segment", segment.segment);
    io("expected", segment.expected);
    io("rightNotes", segment.right);
    io("wrongNotes", segment.wrong);
    io("missedNotes", segment.missed);
    io("extraNotes", segment.extra);
    io("breaths", segment.breaths);
    io("heard", segment.played);
    io("clean", segment.clean);
    io("asynchronyMs", segment.asynchronyMs);
    io("onsetSpreadMs", segment.onsetSpreadMs);
    io("ioiSpreadMs", segment.ioiSpreadMs);
    io("ioiSpreadPercent", segment.ioiSpreadPercent);
    io("longShortRatio", segment.longShortRatio);
    io("targetRatio", segment.targetRatio);
    io("earlierTries", segment.earlierTries);
}

template <typename Io, MaybeConst<NoteReport> T>
void fields(Io& io, T& report) {
    io("scoreNote", report.note);
    io("report", report.kind);
}

template <typename Io, MaybeConst<Correction> T>
void fields(Io& io, T& correction) {
    fields(io, correction.report);
    io("saidUtc", correction.saidUtc);
}

template <typename Io, MaybeConst<TakeHeader> T>
void fields(Io& io, T& header) {
    io("id", header.id);
    io("player", header.player);
    io("instrumentId", header.instrumentId);
    io("instrumentJson", header.instrumentJson);
    io("drillName", header.drillName);
    io("drillJson", header.drillJson);
    io("startedUtc", header.startedUtc);
    io("timeZone", header.timeZone);
    io("way", header.way);
    io("plannedBpm", header.plannedBpm);
    io("machine", header.machine);
    io("invented", header.invented);
}

// What findings use of notes, changes and segments, so that a long log is read in a fraction of the time.

template <typename Io, MaybeConst<NoteResult> T>
void timeFields(Io& io, T& note) {
    io("scoreNote", note.index);
    io("outcome", note.outcome);
    io("deviationMs", note.deviationMs);
    io("split", note.split);
    io("valvesWrong", note.valvesWrong);
}

template <typename Io, MaybeConst<ChangeResult> T>
void timeFields(Io& io, T& result) {
    io("toNote", result.toIndex);
    io("slurred", result.slurred);
    io("changeoverMs", result.changeoverMs);
    io("fromSensors", result.fromSensors);
    io("lateFingers", result.lateFingers);
    io("lateByMs", result.lateByMs);
}

template <typename Io, MaybeConst<SegmentResult> T>
void timeFields(Io& io, T& segment) {
    io("span", segment.span);
    io("rung", segment.rung);
    io("segment", segment.segment);
    io("heard", segment.played);
    io("ioiSpreadMs", segment.ioiSpreadMs);
}

/// What a TakeRecord and a TakeSummary have in common.
template <typename Io, typename T>
void sharedFields(Io& io, T& take) {
    fields(io, take.header);
    io("endedUtc", take.endedUtc);
    io("state", take.state);
    io("endedBy", take.end);
    io("playedBpm", take.playedBpm);
    io("clock", take.clock);
    io("roundTripMs", take.roundTripMs);
    io("roundTripFrom", take.roundTripFrom);
    io("soundFile", take.soundFile);
    io("passed", take.passed);
    io("playerNote", take.playerNote);
    io("messages", take.messages);
}

/// What a summary derives from the notes; kept beside the take, so that lists need not load them.
template <typename Io, MaybeConst<TakeSummary> T>
void derivedFields(Io& io, T& take) {
    io("source", take.source);
    io("expected", take.expected);
    io("rightNotes", take.right);
    io("wrongNotes", take.wrong);
    io("missedNotes", take.missed);
    io("extraNotes", take.extra);
    io("breaths", take.breaths);
    io("clean", take.clean);
    io("asynchronyMs", take.asynchronyMs);
    io("worstIoiSpreadPercent", take.worstIoiSpreadPercent);
}

/// What only a TakeRecord has, but for its performance.
template <typename Io, MaybeConst<TakeRecord> T>
void recordFields(Io& io, T& take) {
    io("playedBpmLow", take.playedBpmLow);
    io("playedBpmHigh", take.playedBpmHigh);
    io("startPpq", take.startPpq);
    io("endPpq", take.endPpq);
}

/// What of a performance neither its lists nor a summary hold.
template <typename Io, MaybeConst<Performance> T>
void performanceFields(Io& io, T& performance) {
    io("asynchronySpreadMs", performance.asynchronySpreadMs);
    io("tuningHz", performance.tuningHz);
    std::vector<std::string> remarks = inWords(performance.remarks);
    io("remarks", remarks);
    if constexpr (!std::is_const_v<T>)
        performance.remarks = remarksFrom(std::move(remarks));
}

template <typename Io, MaybeConst<TakeSummary> T>
void fields(Io& io, T& take) {
    sharedFields(io, take);
    derivedFields(io, take);
}

/// The summary of a take: counts, and what the lists show.
[[nodiscard]] TakeSummary summaryOf(const TakeRecord& record);

} // namespace valveladder
