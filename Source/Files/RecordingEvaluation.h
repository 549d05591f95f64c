#pragma once

#include "Base/Problem.h"
#include "Files/NoteAnnotations.h"
#include "Listening/Evaluation.h"
#include "Score/Score.h"

#include <functional>
#include <optional>
#include <span>

namespace valveladder {

/// A score of the annotated notes, to be listened with: one quarter lasts a second and tick 0 is the start of
/// the recording. Pitches are rounded to semitones; a note ends where the next begins at the latest, and of
/// notes that begin within a tick of each other the first is kept; rests of more than half a second part
/// spans. Nothing is slurred or fingered.
[[nodiscard]] Score annotatedScore(std::span<const AnnotatedNote> notes);

/// Listens to an annotated recording, the annotated notes being the score, and tallies: which notes should
/// come, and roughly when, is known, as it is in a drill; onsets and pitches come from the sound.
/// `channel` from 0, nothing = all mixed; `progress` 0..1. Fails where a file cannot be read.
[[nodiscard]] Result<Tally> evaluateRecording(const AnnotatedRecording& recording, std::optional<int> channel,
                                              const std::function<void(double)>& progress);

} // namespace valveladder
