#pragma once

#include "Screen/NoteGraph.h"

#include <array>

namespace valveladder {

/// Deviations, changeovers and intonation of a rung, one under another on one axis of notes. A measure that
/// was not taken keeps one line, so that the others have the room.
class NoteGraphs final : public juce::Component {
public:
    NoteGraphs();

    /// `second` may be null. `rung` of both; `segment` is marked; the note `chosenNote` is chosen, -1 = none.
    void show(const TakeModel* first, const TakeModel* second, int rung, int segment, int chosenNote);
    void setNames(const PitchNames& names);
    /// Marks the note that is played; -1 = none.
    void showSounding(int noteIndex);
    /// A note is wanted to be heard: one that was clicked, or the chosen one.
    std::function<void(int noteIndex)> onPlay;
    void playChosen();

    void resized() override;

private:
    void choose(int noteIndex);
    [[nodiscard]] std::array<NoteGraph*, 3> all() { return {&deviations, &changeovers, &intonation}; }

    NoteGraph deviations{NoteMeasure::deviation};
    NoteGraph changeovers{NoteMeasure::changeover};
    NoteGraph intonation{NoteMeasure::intonation};
    int chosen = -1;
};

} // namespace valveladder
