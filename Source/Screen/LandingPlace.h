#pragma once

#include "Screen/LadderView.h"
#include "Screen/NoteGraphs.h"
#include "Screen/PlayStrip.h"
#include "Screen/TakeList.h"
#include "Screen/TextColumn.h"
#include "Screen/WhyEmpty.h"
#include "View/LogReader.h"
#include "View/Overview.h"

namespace valveladder {

/// The place after a take: its ladder, its notes, what was found, what comes next.
class LandingPlace final : public juce::Component {
public:
    LandingPlace();

    /// Takes of the log and what was found in them; null while it is being read.
    void show(const std::shared_ptr<const Overview>& overview);
    /// The chosen take, once it is loaded.
    void showTake(std::shared_ptr<const LoadedTake> take);
    void setNames(const PitchNames& names);
    /// The note that is being played; -1 = none.
    void showSounding(int noteIndex);

    /// The id of the take that is chosen, empty when there is none.
    [[nodiscard]] std::string chosenTake() const;
    std::function<void(const PracticeSession&)> onNext;
    std::function<void(const TakeSummary&)> onNoteWanted;
    /// Where the log holds takes of others alone: theirs are wanted.
    std::function<void(const OtherPlayer&)> onOther;
    /// The chosen take; nullptr while it is not loaded.
    [[nodiscard]] std::shared_ptr<const LoadedTake> take() const { return shownTake; }
    [[nodiscard]] PlayStrip& sound() { return strip; }
    /// The chosen take's kept sound is wanted from a note.
    std::function<void(int noteIndex)> onPlay;

    void paint(juce::Graphics& g) override;
    void resized() override;

private:
    void rungChosen();
    /// What is written over the ladder.
    [[nodiscard]] juce::String title() const;
    [[nodiscard]] juce::String detail() const;
    /// The same for screen readers.
    void say() { setDescription(described(title(), detail())); }
    void layOutCard();

    std::shared_ptr<const Overview> shownOverview;
    std::shared_ptr<const LoadedTake> shownTake;
    TakeList takes;
    LadderView ladder;
    NoteGraphs graphs;
    TextColumn found;
    TextColumn next;
    juce::TextButton load;
    PlayStrip strip;
    Card card; ///< why there is nothing to see
    juce::Rectangle<int> heading;
};

} // namespace valveladder
