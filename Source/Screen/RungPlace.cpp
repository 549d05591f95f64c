#include "Screen/RungPlace.h"

#include "Screen/Look.h"
#include "View/Words.h"

namespace valveladder {

namespace {

constexpr int headerHeight = 84;
constexpr int noticeHeight = 48;

} // namespace

RungPlace::RungPlace() {
    setTitle(words::rungPlaceSaid);
    setFocusContainerType(FocusContainerType::focusContainer);
    setOpaque(true);
    for (juce::Component* part : std::initializer_list<juce::Component*>{&header, &staff, &nowNext})
        addAndMakeVisible(part);
}

void RungPlace::show(const PlayModel& model, const Choices& choices) {
    const bool wanted = model.notice.kind != Notice::Kind::none;
    if (wanted != notice) {
        notice = wanted;
        resized();
    }
    header.show(model, choices.names);
    staff.show(model, choices.jumpy, choices.names);
    nowNext.show(model, choices.names.spelling, choices.names.sounding);
}

void RungPlace::paint(juce::Graphics& g) {
    g.fillAll(Look::themeOf(*this).ground);
}

void RungPlace::resized() {
    auto area = getLocalBounds().reduced(grid::margin, 0).withTrimmedBottom(grid::unit);
    header.setBounds(area.removeFromTop(headerHeight + (notice ? noticeHeight : 0)));
    nowNext.setBounds(area.removeFromBottom(juce::jlimit(130, 240, area.getHeight() * 36 / 100)));
    area.removeFromBottom(grid::gutter);
    staff.setBounds(area);
}

} // namespace valveladder
