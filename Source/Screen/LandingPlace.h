#pragma once

#include "Screen/FingerCaps.h"
#include "Screen/InventedTag.h"
#include "Screen/LadderView.h"
#include "Screen/NoteGraphs.h"
#include "Screen/PlayStrip.h"
#include "Screen/ResultStaff.h"
#include "Screen/TakeList.h"
#include "Screen/TextColumn.h"
#include "Screen/WhyEmpty.h"
#include "View/LogReader.h"
#include "View/Overview.h"

namespace valveladder {

/// The place after a take: one sentence, the segment with its trouble, one button; figures behind Details.
class LandingPlace final : public juce::Component {
public:
    LandingPlace();

    /// Takes of the log and what was found in them; null while it is being read.
    void show(const std::shared_ptr<const Overview>& overview);
    /// The chosen take, once it is loaded: it opens on its worst segment.
    void showTake(std::shared_ptr<const LoadedTake> take);
    /// The tempo that the plan has next, bpm.
    void showPlanned(double bpm);
    void showNewest() { takes.chooseNewest(); }
    void choose(const std::string& takeId) { takes.choose(takeId); }
    void showDetails(bool wanted);
    /// Another cell of the chosen take.
    void showCell(const CellPlace& cell) { ladder.choose(cell); }
    [[nodiscard]] bool detailsShown() const { return details.getToggleState(); }
    void setNames(const PitchNames& names);
    /// The note that is being played; -1 = none.
    void showSounding(int noteIndex);

    /// The id of the take that is chosen, empty when there is none.
    [[nodiscard]] std::string chosenTake() const;
    std::function<void(const PracticeSession&)> onNext;
    /// The same drill again, at the tempo that the plan has next.
    std::function<void()> onAgain;
    std::function<void(const TakeSummary&)> onNoteWanted;
    /// Where the log holds takes of others alone: theirs are wanted.
    std::function<void(const LogPlayer&)> onOther;
    /// The chosen take; nullptr while it is not loaded.
    [[nodiscard]] std::shared_ptr<const LoadedTake> take() const { return shownTake; }
    [[nodiscard]] PlayStrip& sound() { return strip; }
    /// The chosen take's kept sound is wanted from a note.
    std::function<void(int noteIndex)> onPlay;
    /// The player says of the chosen take's note that it was right, or takes that back.
    std::function<void(const CorrectionOffer&)> onCorrect;

    void paint(juce::Graphics& g) override;
    void resized() override;

private:
    void buildButtons();
    void buildCorrection();
    void buildTake();
    void cellChosen();
    /// What was told of the chosen note, and the button where it can be said that it was not so.
    void tellChosen();
    void paintAdvice(juce::Graphics& g) const;
    void chooseParts();
    void layOutFoot(juce::Rectangle<int> foot);
    void layOutDetails(juce::Rectangle<int> area);
    void layOutLists(juce::Rectangle<int> area);
    void nameButtons();
    [[nodiscard]] bool hasNext() const;
    /// What is written over the sheet, and the same for screen readers.
    void say();
    void showFound();

    std::shared_ptr<const Overview> shownOverview;
    std::shared_ptr<const LoadedTake> shownTake;
    double plannedBpm = 0.0;
    PitchNames pitchNames;
    std::optional<CorrectionOffer> offer; ///< for the note that is chosen
    juce::String sentence, behind, advice;
    juce::String told; ///< of the note that is chosen
    LadderView ladder;
    ResultStaff staff;
    FingerCaps fingers;
    InventedTag invented;
    juce::TextButton practise, again, details, correct;
    TakeList takes;
    NoteGraphs graphs;
    TextColumn found;
    TextColumn next;
    PlayStrip strip;
    Card card; ///< why there is nothing to see
    juce::Rectangle<int> heading, toldArea, adviceArea;
};

} // namespace valveladder
