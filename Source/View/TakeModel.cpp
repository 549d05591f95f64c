#include "View/TakeModel.h"

#include "Findings/FingersApart.h"
#include "Records/Fields.h"
#include "View/Words.h"
#include "Words/FingerOrderWords.h"
#include "Words/RemarkWords.h"

#include <algorithm>
#include <map>
#include <optional>

namespace valveladder {

namespace {

std::vector<RungModel> emptyLadder(const Score& score) {
    std::vector<RungModel> rungs;
    for (const std::string& label : score.rungLabels)
        rungs.push_back({label, std::vector<CellModel>(score.segmentNames.size())});
    return rungs;
}

bool inside(int index, std::size_t size) {
    return index >= 0 && index < static_cast<int>(size);
}

void fillCells(const Performance& performance, TakeModel& model) {
    for (const SegmentResult& result : performance.segments) {
        if (!inside(result.rung, model.rungs.size()))
            continue;
        auto& cells = model.rungs[static_cast<std::size_t>(result.rung)].cells;
        if (!inside(result.segment, cells.size()))
            continue;
        CellModel& cell = cells[static_cast<std::size_t>(result.segment)];
        cell.played = result.played;
        cell.clean = result.clean;
        cell.expected = result.expected;
        cell.right = result.right;
        cell.faults = result.wrong + result.missed + result.extra + result.breaths;
        cell.words = words::cellWords(result);
    }
}

void fillNotes(const Performance& performance, const Score& score, const Instrument& instrument,
               TakeModel& model) {
    std::vector<ChangeResult> changes(score.notes.size());
    for (const ChangeResult& change : performance.changes)
        if (inside(change.toIndex, changes.size()))
            changes[static_cast<std::size_t>(change.toIndex)] = change;
    for (const NoteResult& result : performance.notes) {
        if (!inside(result.index, score.notes.size()))
            continue;
        const ScoreNote& note = score.notes[static_cast<std::size_t>(result.index)];
        const ChangeResult& into = changes[static_cast<std::size_t>(result.index)];
        model.notes.push_back({result.index,
                               note.rung,
                               note.segment,
                               note.written,
                               note.sounding,
                               instrument.combinationName(note.combination),
                               result.outcome,
                               result.split,
                               result.deviationMs,
                               into.changeoverMs,
                               result.cents,
                               {},
                               std::nullopt,
                               {},
                               cameLate(into),
                               fingersApartInWords(into, instrument.thumbValve)});
    }
}

/// What was told of each note, and what of it the player has taken back.
void fillReports(const TakeRecord& record, TakeModel& model) {
    std::map<int, NoteModel*> byIndex;
    for (NoteModel& note : model.notes)
        byIndex[note.index] = &note;
    for (const NoteReport& report : reportsOf(record.performance))
        if (const auto found = byIndex.find(report.note); found != byIndex.end()) {
            NoteModel& note = *found->second;
            note.reports.push_back(report.kind);
            if (const auto likelihood = likelihoodOf(record.performance, report))
                note.likelihood = std::min(note.likelihood.value_or(1.0), *likelihood);
        }
    for (const Correction& said : record.corrections)
        if (const auto note = byIndex.find(said.report.note); note != byIndex.end())
            note->second->saidRight.push_back(said.report.kind);
}

} // namespace

std::optional<double> NoteModel::value(NoteMeasure measure) const {
    switch (measure) {
    case NoteMeasure::deviation:
        return deviationMs;
    case NoteMeasure::changeover:
        return changeoverMs;
    case NoteMeasure::intonation:
        break;
    }
    return cents;
}

TakeModel takeModel(const TakeRecord& record, const Score& score, const Instrument& instrument) {
    TakeModel model;
    model.id = record.header.id;
    model.heading = words::takeHeading(record);
    const TakeSummary summary = summaryOf(record);
    model.counts = words::takeCounts(summary);
    model.detail = words::takeDetail(summary);
    model.whole = record.state == TakeState::whole;
    model.passed = model.whole && record.passed;
    model.extras = static_cast<int>(record.performance.extras.size());
    model.remarks = inWords(record.performance.remarks);
    model.remarks.insert(model.remarks.end(), record.messages.begin(), record.messages.end());
    model.segmentNames = score.segmentNames;
    model.rungs = emptyLadder(score);
    model.midiOnly = record.performance.source == Source::midi;
    fillCells(record.performance, model);
    fillNotes(record.performance, score, instrument, model);
    fillReports(record, model);
    return model;
}

} // namespace valveladder
