#include "Screen/NoteGraphs.h"

#include <algorithm>

namespace valveladder {

NoteGraphs::NoteGraphs() {
    for (NoteGraph* graph : all()) {
        graph->onChosen = [this](int note) { choose(note); };
        graph->onNote = [this](int) { playChosen(); };
        addAndMakeVisible(graph);
    }
}

void NoteGraphs::show(const TakeModel* first, const TakeModel* second, int rung, int segment,
                      int chosenNote) {
    for (NoteGraph* graph : all())
        graph->show(first, second, rung, segment);
    choose(chosenNote);
    resized();
}

void NoteGraphs::setNames(const PitchNames& names) {
    for (NoteGraph* graph : all())
        graph->setNames(names);
}

void NoteGraphs::choose(int noteIndex) {
    chosen = noteIndex;
    for (NoteGraph* graph : all())
        graph->setChosen(noteIndex);
}

void NoteGraphs::showSounding(int noteIndex) {
    for (NoteGraph* graph : all())
        graph->setSounding(noteIndex);
}

void NoteGraphs::playChosen() {
    if (onPlay && chosen >= 0)
        onPlay(chosen);
}

/// The lowest graph that shows anything names the notes.
void NoteGraphs::resized() {
    const auto graphs = all();
    const auto shown =
        std::count_if(graphs.begin(), graphs.end(), [](auto* each) { return each->measured(); });
    const auto lowest =
        std::find_if(graphs.rbegin(), graphs.rend(), [](auto* each) { return each->measured(); });
    auto area = getLocalBounds();
    const int lines = (static_cast<int>(graphs.size()) - static_cast<int>(shown)) * NoteGraph::lineHeight;
    const int room = std::max(0, area.getHeight() - lines - NoteGraph::extraForNames);
    const int each = room / std::max(1, static_cast<int>(shown));
    for (NoteGraph* graph : graphs) {
        const bool names = lowest != graphs.rend() && graph == *lowest;
        graph->showPitches(names);
        graph->setBounds(area.removeFromTop(!graph->measured() ? NoteGraph::lineHeight
                                            : names            ? each + NoteGraph::extraForNames
                                                               : each));
    }
}

} // namespace valveladder
