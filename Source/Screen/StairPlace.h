#pragma once

#include "Screen/HandView.h"
#include "Screen/InventedTag.h"
#include "Screen/LadderView.h"
#include "Screen/SidesView.h"
#include "Screen/TempoStair.h"
#include "Screen/TextColumn.h"
#include "Screen/WhyEmpty.h"
#include "View/LogReader.h"
#include "View/Overview.h"

namespace valveladder {

/// The place over weeks: the tempo's stair, fingers and changes, plan and reality; or two takes or days side
/// by side.
class StairPlace final : public juce::Component {
public:
    StairPlace();

    void show(const std::shared_ptr<const Overview>& overview);
    void showSides(bool wanted);
    /// The take that stands in the ladder; null while there is none.
    void showTake(const std::shared_ptr<const LoadedTake>& take);
    void setNames(const PitchNames& names);
    /// A cell of that take is wanted.
    std::function<void(const CellPlace&)> onCell;
    /// Where the log holds takes of others alone: theirs are wanted.
    std::function<void(const LogPlayer&)> onOther;
    [[nodiscard]] bool sidesShown() const { return sidesWanted; }
    [[nodiscard]] SidesView& sides() { return sideView; }

    void paint(juce::Graphics& g) override;
    void resized() override;

private:
    void choosePart();
    void showLadder();
    void showPlan();
    void cellChosen();

    PitchNames pitchNames;
    std::shared_ptr<const Overview> shown;
    std::shared_ptr<const LoadedTake> shownTake; ///< the newest, or the one that was chosen
    std::shared_ptr<const LoadedTake> inLadder;
    bool sidesWanted = false;
    juce::TextButton weeksButton, sidesButton;
    LadderView ladder;
    InventedTag invented;
    TempoStair stair;
    HandView hand;
    ChangesView changes;
    TextColumn plan;
    SidesView sideView;
    Card card; ///< why there is nothing to see
};

} // namespace valveladder
