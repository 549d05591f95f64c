#pragma once

#include "Support/SoundScoring.h"

#include <span>
#include <vector>

namespace valveladder::testing {

/// Notes by a general pitch tracker, for comparison: aubio's "yin" with window 4096 and hop 512, cut where
/// the rounded pitch changes and where the sound falls silent. Knows nothing of the score. Onsets are the
/// tracker's own, late by its window.
[[nodiscard]] std::vector<NoteEvent> aubioNotes(std::span<const float> mono, double sampleRate);

/// The events moved by their median lateness against the reference (among those of the right pitch within
/// 150 ms), so that a constant lag is not held against a tracker.
[[nodiscard]] std::vector<NoteEvent> withoutLag(std::vector<NoteEvent> events,
                                                const std::vector<NoteEvent>& reference);

} // namespace valveladder::testing
