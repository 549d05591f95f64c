#include "Support/SoundScoring.h"

#include "Listening/Measures.h"

#include <algorithm>
#include <cmath>

namespace valveladder::testing {

std::vector<NoteEvent> referenceNotes(const SoundPlan& truth) {
    std::vector<NoteEvent> notes;
    for (const TrueNote& note : truth.notes) {
        notes.push_back({note.onset, static_cast<double>(note.midi)});
        if (note.splitAt)
            notes.push_back({*note.splitAt, static_cast<double>(note.midi)});
    }
    return notes;
}

MatchCounts matchNotes(const std::vector<NoteEvent>& reference, const std::vector<NoteEvent>& estimated) {
    return {static_cast<int>(reference.size()), static_cast<int>(estimated.size()),
            static_cast<int>(matchedPairs(reference, estimated).size())};
}

namespace {

class Judge {
public:
    Judge(const SoundPlan& plan, const Performance& performance, double start, std::string takeName)
        : truth(plan), heard(performance), startSeconds(start), name(std::move(takeName)) {}

    Tally run() {
        tally.notes = matchNotes(referenceNotes(truth), heardEvents(heard, startSeconds));
        for (const NoteResult& note : heard.notes)
            judgeNote(note);
        judgeExtras();
        judgeChanges();
        return std::move(tally);
    }

private:
    void story(const std::string& what, int index, double seconds) {
        tally.stories.push_back(name + ": note " + std::to_string(index) + " at " + std::to_string(seconds) +
                                " " + what);
    }
    void falseReport(const std::string& what, int index, double seconds) {
        ++tally.falseReports;
        story("FALSE " + what, index, seconds);
    }
    void count(Tally::Fault& fault, bool found, const char* what, int index, double seconds) {
        ++fault.planted;
        fault.found += found ? 1 : 0;
        if (!found)
            story(std::string("NOT FOUND ") + what, index, seconds);
    }

    void countSplit(const TrueNote& note, bool found) {
        count(tally.split, found, "split", note.index, *note.splitAt);
        if (shorterHalf(note, truth.note(note.index + 1)) < leastHalf)
            return;
        ++tally.clearSplit.planted;
        tally.clearSplit.found += found ? 1 : 0;
    }

    void judgeNote(const NoteResult& note) {
        const TrueNote* t = truth.note(note.index);
        if (t == nullptr) {
            count(tally.missed, note.outcome == Outcome::missed, "missed", note.index, 0.0);
            return;
        }
        if (t->wrong)
            count(tally.wrong, note.outcome == Outcome::wrong, "wrong", note.index, t->onset);
        else if (note.outcome != Outcome::right)
            falseReport(note.outcome == Outcome::wrong
                            ? "wrong " + std::to_string(note.played) + " for " + std::to_string(t->midi)
                            : "missed",
                        note.index, t->onset);
        if (t->splitAt)
            countSplit(*t, note.split);
        else if (note.split)
            falseReport("split", note.index, t->onset);
        if (t->breathBefore)
            count(tally.breath, note.breathBefore, "breath", note.index, t->onset);
        else if (note.breathBefore)
            falseReport("breath", note.index, t->onset);
        if (note.outcome == Outcome::right && note.onsetSeconds) {
            const double error = 1000.0 * (*note.onsetSeconds + startSeconds - t->onset);
            tally.onsetErrorsMs.push_back(error);
            if (std::abs(error) > 20.0)
                story("onset off by " + std::to_string(error) + " ms", note.index, t->onset);
        }
    }

    void judgeExtras() {
        for (const ExtraNote& extra : heard.extras) {
            const TrueNote* t = truth.note(extra.nearIndex);
            const bool secondArticulation = t != nullptr && t->splitAt && t->midi == extra.played;
            if (!secondArticulation)
                falseReport("extra " + std::to_string(extra.played), extra.nearIndex,
                            extra.onsetSeconds + startSeconds);
        }
    }

    void judgeChanges() {
        for (const ChangeResult& change : heard.changes) {
            const TrueNote* t = truth.note(change.toIndex);
            const TrueNote* before = truth.note(change.toIndex - 1);
            if (t == nullptr || before == nullptr || !t->changeoverMs || t->wrong || before->wrong)
                continue;
            ++tally.changeovers;
            if (!change.changeoverMs)
                continue;
            const double error = *change.changeoverMs - *t->changeoverMs;
            tally.changeoverErrorsMs.push_back(error);
            if (std::abs(error) > 25.0)
                story("changeover " + std::to_string(*change.changeoverMs) + " for " +
                          std::to_string(*t->changeoverMs),
                      change.toIndex, t->onset);
        }
    }

    const SoundPlan& truth;
    const Performance& heard;
    double startSeconds;
    std::string name;
    Tally tally;
};

/// The measures that follow from the true onsets, by the same rules.
Performance trueMeasures(const Score& score, double bpm, const SoundPlan& truth) {
    Performance p;
    for (int i = 0; i < static_cast<int>(score.notes.size()); ++i) {
        NoteResult note;
        note.index = i;
        if (const TrueNote* t = truth.note(i)) {
            note.outcome = t->wrong ? Outcome::wrong : Outcome::right;
            note.played = t->midi;
            note.onsetSeconds = t->onset - truth.startSeconds;
            note.offsetSeconds = t->offset - truth.startSeconds;
        }
        p.notes.push_back(note);
    }
    fillMeasures(p, score, TempoMap(bpm));
    return p;
}

} // namespace

Tally tallyTake(const Score& score, double bpm, const SoundTake& take, const Performance& heard,
                double startSeconds, const std::string& name) {
    Tally tally = Judge(take.truth, heard, startSeconds, name).run();
    const Performance truth = trueMeasures(score, bpm, take.truth);
    for (std::size_t i = 0; i < std::min(truth.segments.size(), heard.segments.size()); ++i) {
        const SegmentResult& t = truth.segments[i];
        const SegmentResult& h = heard.segments[i];
        if (t.longShortRatio && h.longShortRatio)
            tally.ratioErrors.push_back(h.longShortRatio->value / t.longShortRatio->value - 1.0);
        if (t.ioiSpreadMs && h.ioiSpreadMs)
            tally.ioiSpreadErrors.push_back(h.ioiSpreadMs->value - t.ioiSpreadMs->value);
    }
    return tally;
}

} // namespace valveladder::testing
