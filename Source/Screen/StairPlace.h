#pragma once

#include "Screen/HandView.h"
#include "Screen/SidesView.h"
#include "Screen/TempoStair.h"
#include "Screen/TextColumn.h"
#include "Screen/WhyEmpty.h"
#include "View/Overview.h"

namespace valveladder {

/// The place over weeks: the tempo's stair, fingers and changes, plan and reality; or two takes or days side
/// by side.
class StairPlace final : public juce::Component {
public:
    StairPlace();

    void show(const std::shared_ptr<const Overview>& overview);
    void showSides(bool wanted);
    /// Where the log holds takes of others alone: theirs are wanted.
    std::function<void(const OtherPlayer&)> onOther;
    [[nodiscard]] bool sidesShown() const { return sidesWanted; }
    [[nodiscard]] SidesView& sides() { return sideView; }

    void paint(juce::Graphics& g) override;
    void resized() override;

private:
    void choosePart();
    void layOutCard();

    std::shared_ptr<const Overview> shown;
    bool sidesWanted = false;
    juce::TextButton weeksButton, sidesButton;
    TempoStair stair;
    HandView hand;
    ChangesView changes;
    TextColumn plan;
    SidesView sideView;
    Card card; ///< why there is nothing to see
};

} // namespace valveladder
