#include "Screen/WindowBar.h"

#include "Screen/Look.h"
#include "Screen/Type.h"
#include "View/Words.h"

namespace valveladder {

namespace {

constexpr int tabWidth = 104;
constexpr int exportWidth = 96;
constexpr int backWidth = 176;

struct Tab {
    WindowPlace place;
    const char *text, *key, *said, *help;
};
constexpr std::array<Tab, 5> tabsOfPlaces{{
    {WindowPlace::rung, words::rungPlace, "1", words::rungPlaceSaid, words::rungPlaceHelp},
    {WindowPlace::landing, words::landingPlace, "2", words::landingPlaceSaid, words::landingPlaceHelp},
    {WindowPlace::stair, words::stairPlace, "3", words::stairPlaceSaid, words::stairPlaceHelp},
    {WindowPlace::part, words::partPlace, "4", words::partPlaceSaid, words::partPlaceHelp},
    {WindowPlace::setUp, words::setUp, "S", words::setUp, words::setUpHelp},
}};

} // namespace

WindowBar::WindowBar() {
    buildTabs();
    backToOwn.setToggleable(true);
    backToOwn.setToggleState(true, juce::dontSendNotification); // in brass: what leads back
    backToOwn.setButtonText(words::backToOwnKey);
    backToOwn.setTitle(words::backToOwn);
    backToOwn.setTooltip(words::backToOwnHelp);
    backToOwn.onClick = [this] { onBackToOwn(); };
    addChildComponent(backToOwn);
    exportButton.setButtonText(juce::String(words::exportView) + "  E");
    exportButton.setTitle(words::exportTitle);
    exportButton.setTooltip(words::exportHelp);
    Look::makeTab(exportButton);
    exportButton.onClick = [this] { onExport(); };
    addAndMakeVisible(exportButton);
    whoPlays.setJustificationType(juce::Justification::centredRight);
    whoPlays.setMinimumHorizontalScale(1.0F);
    addAndMakeVisible(whoPlays);
}

void WindowBar::buildTabs() {
    for (std::size_t i = 0; i < tabs.size(); ++i) {
        const Tab& tab = tabsOfPlaces.at(i);
        juce::TextButton& button = tabs.at(i);
        button.setButtonText(juce::String(tab.text) + "  " + tab.key);
        button.setTitle(tab.said);
        button.setToggleable(true); // which place is shown is told to screen readers
        button.setTooltip(tab.help);
        Look::makeTab(button);
        button.onClick = [this, place = tab.place] { onPlace(place); };
        addAndMakeVisible(button);
    }
}

void WindowBar::showPlace(WindowPlace shown) {
    for (std::size_t i = 0; i < tabs.size(); ++i)
        tabs.at(i).setToggleState(tabsOfPlaces.at(i).place == shown, juce::dontSendNotification);
}

void WindowBar::showPlayer(const std::string& name, const std::string& instrumentName) {
    player = name;
    instrument = instrumentName;
    namePlayer();
}

void WindowBar::showBackToOwn(bool wanted) {
    backToOwn.setVisible(wanted);
    resized();
}

void WindowBar::resized() {
    auto area = getLocalBounds().reduced(grid::margin, 0);
    area = area.withSizeKeepingCentre(area.getWidth(), grid::control);
    for (std::size_t i = 0; i + 1 < tabs.size(); ++i) {
        tabs.at(i).setBounds(area.removeFromLeft(tabWidth));
        area.removeFromLeft(grid::unit);
    }
    exportButton.setBounds(area.removeFromRight(exportWidth));
    area.removeFromRight(grid::unit);
    tabs.back().setBounds(area.removeFromRight(tabWidth));
    if (backToOwn.isVisible())
        backToOwn.setBounds(area.removeFromRight(backWidth));
    whoPlays.setBounds(area.withTrimmedRight(grid::unit));
    namePlayer();
}

/// Player and instrument, or the player alone, or nobody: what there is room for.
void WindowBar::namePlayer() {
    const auto room = static_cast<float>(whoPlays.getWidth()) - 12.0F;
    const juce::String name = toText(player);
    const juce::String all = toText(words::whoPlays(player, instrument));
    const auto fits = [room](const juce::String& text) {
        return textWidth(plainFont(grid::body), text) <= room;
    };
    whoPlays.setText(fits(all) ? all : fits(name) ? name : juce::String(), juce::dontSendNotification);
    whoPlays.setTooltip(toText(words::whoPlaysHelp(player, instrument)));
}

} // namespace valveladder
