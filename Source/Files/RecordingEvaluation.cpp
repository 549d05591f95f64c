#include "Files/RecordingEvaluation.h"

#include "Base/Path.h"
#include "Files/SoundFile.h"
#include "Listening/SoundListener.h"

#include <algorithm>
#include <cmath>

namespace valveladder {

namespace {

constexpr double spanRestSeconds = 0.5;
constexpr double bpm = 60.0; ///< a quarter is a second

Tick tickOf(double seconds) {
    return std::llround(seconds * ticksPerQuarter);
}

void openSpan(Score& score, Tick start) {
    ScoreSpan span;
    span.rung = static_cast<int>(score.spans.size());
    span.firstNote = static_cast<int>(score.notes.size());
    span.start = start;
    score.spans.push_back(span);
    score.rungLabels.push_back("phrase " + std::to_string(score.spans.size()));
}

} // namespace

Score annotatedScore(std::span<const AnnotatedNote> notes) {
    Score score;
    score.bpm = bpm;
    score.segmentNames = {"as annotated"};
    double lastOffset = -1.0;
    for (const AnnotatedNote& annotated : notes) {
        const Tick onset = tickOf(annotated.onset);
        if (!score.notes.empty() && onset <= score.notes.back().onset + 1)
            continue;
        if (!score.notes.empty()) {
            ScoreNote& before = score.notes.back();
            before.length = std::min(before.length, static_cast<int>(onset - before.onset));
            before.gate = before.length;
        }
        if (score.spans.empty() || annotated.onset - lastOffset > spanRestSeconds)
            openSpan(score, onset);
        ScoreNote note;
        note.onset = onset;
        note.length = std::max(1, static_cast<int>(tickOf(annotated.offset) - onset));
        note.gate = note.length;
        note.sounding = note.written = static_cast<MidiNote>(std::lround(annotated.midi));
        note.span = static_cast<int>(score.spans.size()) - 1;
        note.rung = note.span;
        score.notes.push_back(note);
        ScoreSpan& span = score.spans.back();
        ++span.noteCount;
        span.end = onset + note.length;
        lastOffset = annotated.offset;
    }
    score.length = score.spans.empty() ? 0 : score.spans.back().end;
    return score;
}

Result<Tally> evaluateRecording(const AnnotatedRecording& recording, std::optional<int> channel,
                                const std::function<void(double)>& progress) {
    auto notes = readAnnotationFile(recording.notes);
    if (!notes)
        return notes.problem();
    auto opened = SoundFile::open(recording.sound);
    if (!opened)
        return opened.problem();
    const SoundFormat format = opened.value()->format();
    const Score score = annotatedScore(notes.value());
    SoundSettings settings;
    settings.sampleRate = format.sampleRate;
    settings.tempo = TempoMap(bpm);
    settings.startSeconds = 0.0;
    auto sane = checked(settings);
    if (!sane)
        return inFile(sane.problem(), pathText(recording.sound));
    SoundListener listener(score, sane.value());
    auto read = readSound(
        recording.sound, channel, [&](std::span<const float> piece) { listener.push(piece); },
        [&](double share) {
            progress(share);
            return true;
        });
    if (!read)
        return read.problem();
    std::vector<NoteEvent> reference;
    for (const AnnotatedNote& note : notes.value())
        reference.push_back({note.onset, note.midi});
    return tallyAgainstAnnotations(reference, listener.finish(), 0.0);
}

} // namespace valveladder
