#include "Screen/RungPlace.h"

#include "Screen/Look.h"
#include "View/Words.h"

namespace valveladder {

RungPlace::RungPlace() {
    setTitle(words::rungPlaceSaid);
    setFocusContainerType(FocusContainerType::focusContainer);
    setOpaque(true);
    for (juce::Component* part : std::initializer_list<juce::Component*>{&ladder, &header, &staff, &nowNext})
        addAndMakeVisible(part);
    daily.setButtonText(words::dailyDrill);
    daily.setTooltip(words::dailyDrillHelp);
    daily.onClick = [this] { onDaily(); };
    addChildComponent(daily);
}

void RungPlace::show(const PlayModel& model, const Choices& choices) {
    if (const bool aside = isAside(model.setup->config); aside != daily.isVisible()) {
        daily.setVisible(aside);
        resized();
    }
    ladder.show(model);
    ladder.setNames(choices.names);
    header.show(model, choices.names);
    staff.show(model, choices.jumpy, choices.names);
    nowNext.show(model, choices.names.spelling, choices.names.sounding);
}

void RungPlace::paint(juce::Graphics& g) {
    g.fillAll(Look::themeOf(*this).ground);
}

void RungPlace::resized() {
    auto area =
        getLocalBounds().reduced(grid::margin, 0).withTrimmedTop(grid::unit).withTrimmedBottom(grid::unit);
    auto side = area.removeFromLeft(LadderView::width);
    area.removeFromLeft(grid::margin);
    header.setBounds(area.removeFromTop(PlayHeader::height));
    area.removeFromTop(grid::unit);
    nowNext.setBounds(area.removeFromBottom(juce::jlimit(120, 220, area.getHeight() * 32 / 100)));
    area.removeFromBottom(grid::unit);
    staff.setBounds(area);
    side = side.withTop(header.getY()).withBottom(nowNext.getBottom());
    if (daily.isVisible()) {
        daily.setBounds(side.removeFromBottom(grid::control));
        side.removeFromBottom(grid::unit);
    }
    ladder.setBounds(side);
}

} // namespace valveladder
