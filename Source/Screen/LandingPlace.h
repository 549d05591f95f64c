#pragma once

#include "Screen/LadderView.h"
#include "Screen/LogReader.h"
#include "Screen/NoteGraph.h"
#include "Screen/Overview.h"
#include "Screen/TakeList.h"
#include "Screen/TextColumn.h"

namespace valveladder {

/// The place after a take: its ladder, its notes, what was found, what comes next.
class LandingPlace final : public juce::Component {
public:
    LandingPlace();

    /// Takes of the log and what was found in them; null while it is being read.
    void show(const std::shared_ptr<const Overview>& overview);
    /// The chosen take, once it is loaded.
    void showTake(std::shared_ptr<const LoadedTake> take);
    void setSpelling(Spelling spelling);

    /// The id of the take that is chosen, empty when there is none.
    [[nodiscard]] std::string chosenTake() const;
    std::function<void(const PracticeSession&)> onNext;
    std::function<void(const TakeSummary&)> onNoteWanted;
    /// A note of the chosen take was clicked: its kept sound is wanted from there.
    std::function<void(int noteIndex)> onNote;

    void paint(juce::Graphics& g) override;
    void resized() override;

private:
    void rungChosen();
    void paintEmpty(juce::Graphics& g) const;

    std::shared_ptr<const Overview> shownOverview;
    std::shared_ptr<const LoadedTake> shownTake;
    TakeList takes;
    LadderView ladder;
    NoteGraph deviations{NoteMeasure::deviation};
    NoteGraph changeovers{NoteMeasure::changeover};
    NoteGraph intonation{NoteMeasure::intonation};
    TextColumn found;
    TextColumn next;
    juce::TextButton load;
    juce::Rectangle<int> heading;
};

} // namespace valveladder
