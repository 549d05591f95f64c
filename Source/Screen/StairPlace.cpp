#include "Screen/StairPlace.h"

#include "Screen/Look.h"
#include "Screen/Type.h"
#include "View/Words.h"

namespace valveladder {

StairPlace::StairPlace() : plan(words::planTitle) {
    setTitle(words::stairPlaceSaid);
    setFocusContainerType(FocusContainerType::focusContainer);
    setOpaque(true);
    weeksButton.setButtonText(words::weeksView);
    sidesButton.setButtonText(words::sidesView);
    for (juce::TextButton* button : {&weeksButton, &sidesButton}) {
        button->setRadioGroupId(1);
        button->setClickingTogglesState(true);
        button->setWantsKeyboardFocus(true);
    }
    weeksButton.setTitle(words::weeksView);
    sidesButton.setTitle(words::sidesView);
    weeksButton.setTooltip(words::weeksHelp);
    sidesButton.setTooltip(words::sidesHelp);
    weeksButton.onClick = [this] { showSides(sidesButton.getToggleState()); };
    sidesButton.onClick = [this] { showSides(sidesButton.getToggleState()); };
    for (juce::Component* part :
         std::initializer_list<juce::Component*>{&ladder, &weeksButton, &sidesButton, &invented, &stair,
                                                 &hand, &changes, &plan, &sideView, &card})
        addChildComponent(part);
    ladder.onChoice = [this] { cellChosen(); };
    ladder.onTaken = [this] {
        if (!sidesWanted && onCell)
            onCell(ladder.chosen());
    };
    card.onAction = [this] {
        if (shown && !shown->others.empty() && onOther)
            onOther(shown->others.front());
    };
    show(nullptr);
}

void StairPlace::showSides(bool wanted) {
    sidesWanted = wanted;
    choosePart();
}

void StairPlace::showTake(const std::shared_ptr<const LoadedTake>& take) {
    shownTake = take;
    showLadder();
}

/// Over weeks the take that is chosen in its own place; side by side the second of the two.
void StairPlace::showLadder() {
    auto wanted = shownTake;
    if (const auto pair = sidesWanted ? sideView.pair() : std::nullopt)
        wanted = pair->second;
    if (wanted && wanted->trouble)
        wanted = nullptr;
    if (wanted != inLadder && wanted) {
        ladder.show(wanted->model);
        ladder.choose(sidesWanted ? CellPlace{} : worstCell(wanted->model));
    }
    inLadder = wanted;
    ladder.setVisible(wanted && !card.isVisible());
}

/// Side by side a cell chooses its rung.
void StairPlace::cellChosen() {
    if (sidesWanted)
        sideView.chooseRung(ladder.chosen().rung);
}

void StairPlace::setNames(const PitchNames& names) {
    if (names == pitchNames)
        return;
    pitchNames = names;
    ladder.setNames(names);
    sideView.setNames(names);
    showPlan();
}

void StairPlace::choosePart() {
    const auto why = whyEmpty(shown.get(), words::noDaysTitle, words::noDaysWords);
    const bool any = !why;
    card.setVisible(!any);
    if (why) {
        card.show(*why);
        card.centreIn(getLocalBounds());
    }
    invented.setVisible(any && shown->invented);
    weeksButton.setVisible(any);
    sidesButton.setVisible(any);
    weeksButton.setToggleState(!sidesWanted, juce::dontSendNotification);
    sidesButton.setToggleState(sidesWanted, juce::dontSendNotification);
    for (juce::Component* part : std::initializer_list<juce::Component*>{&stair, &hand, &changes, &plan})
        part->setVisible(any && !sidesWanted);
    sideView.setVisible(any && sidesWanted);
    showLadder();
    repaint();
}

void StairPlace::show(const std::shared_ptr<const Overview>& overview) {
    if (overview && overview == shown)
        return;
    shown = overview;
    if (shown) {
        stair.show(shown->stair);
        hand.show(shown->stair);
        changes.show(shown->stair);
        sideView.show(shown->sides);
        showPlan();
    }
    choosePart();
}

void StairPlace::showPlan() {
    if (!shown)
        return;
    std::vector<std::string> text{shown->stair.plan};
    for (const std::string& claim : shown->stair.claims)
        text.push_back(words::firstSentence(claim)); // Take has the figures, behind Details
    text.insert(text.end(), shown->stair.remarks.begin(), shown->stair.remarks.end());
    plan.show(withPitchNames(std::move(text), pitchNames), "");
}

void StairPlace::paint(juce::Graphics& g) {
    g.fillAll(Look::themeOf(*this).ground);
}

void StairPlace::resized() {
    card.centreIn(getLocalBounds());
    auto area = getLocalBounds().reduced(grid::margin, 0).withTrimmedBottom(grid::unit);
    ladder.setBounds(area.removeFromLeft(LadderView::width).withTrimmedTop(grid::unit));
    area.removeFromLeft(grid::margin);
    auto row = area.removeFromTop(grid::control);
    invented.setBounds(
        row.removeFromRight(invented.width()).withSizeKeepingCentre(invented.width(), InventedTag::height));
    weeksButton.setBounds(row.removeFromLeft(120));
    row.removeFromLeft(grid::unit);
    sidesButton.setBounds(row.removeFromLeft(140));
    area.removeFromTop(grid::gutter);
    sideView.setBounds(area);
    stair.setBounds(area.removeFromTop(area.getHeight() * 46 / 100));
    area.removeFromTop(grid::gutter);
    const int words = juce::jlimit(190, 340, area.getWidth() * 26 / 100);
    plan.setBounds(area.removeFromRight(words));
    area.removeFromRight(grid::margin);
    hand.setBounds(area.removeFromLeft(area.getWidth() * 54 / 100));
    area.removeFromLeft(grid::margin);
    changes.setBounds(area);
}

} // namespace valveladder
