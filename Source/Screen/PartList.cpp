#include "Screen/PartList.h"

#include "Screen/Look.h"
#include "Screen/SaidComponent.h"
#include "Screen/Type.h"
#include "Screen/Wrap.h"
#include "View/Words.h"

#include <array>
#include <fmt/format.h>

namespace valveladder {

namespace {

constexpr int rowHeight = 30;
constexpr int headingHeight = 30;
constexpr int inset = 12;

/// Shares of the width.
constexpr std::array<float, 6> columns{0.16F, 0.25F, 0.11F, 0.16F, 0.20F, 0.12F};
constexpr std::array<const char*, 6> headings{words::spotBars,  words::spotChange, words::spotTimes,
                                              words::spotSpeed, words::spotLimit,  words::spotCost};

std::array<std::string, 6> cellsOf(const OpenedPart& part, const Spot& spot) {
    const auto number = [&](int bar) { return part.line.bars[static_cast<std::size_t>(bar)].number; };
    const Instrument& instrument = part.request.instrument;
    return {spot.firstBar == spot.lastBar ? number(spot.firstBar)
                                          : number(spot.firstBar) + "-" + number(spot.lastBar),
            instrument.combinationName(spot.change.from) + words::changeTo +
                instrument.combinationName(spot.change.to),
            spot.passes > 1 ? fmt::format("{}{}{}", spot.times, words::timesPlayed, spot.passes)
                            : std::to_string(spot.times),
            fmt::format("{:.2g}", spot.changesPerSecond),
            spot.limit ? fmt::format("{:.2g}", *spot.limit) : words::limitUnknown,
            fmt::format("{:.2f}", spot.cost)};
}

template <typename Texts>
void paintColumns(juce::Graphics& g, juce::Rectangle<float> area, const Texts& texts) {
    const float whole = area.getWidth();
    for (std::size_t i = 0; i < columns.size(); ++i)
        drawLine(g, toText(texts[i]), area.removeFromLeft(whole * columns[i]),
                 juce::Justification::centredLeft);
}

} // namespace

PartList::PartList() {
    list.setRowHeight(rowHeight);
    list.setTitle(words::spotsTitle);
    list.setHelpText(words::spotsHelp);
    list.setTooltip(words::spotsHelp);
    addAndMakeVisible(list);
}

PartList::~PartList() {
    list.setModel(nullptr);
}

void PartList::show(std::shared_ptr<const OpenedPart> part) {
    if (part == shown)
        return;
    shown = std::move(part);
    list.deselectAllRows();
    list.updateContent();
    if (getNumRows() > 0)
        list.selectRow(0);
    list.repaint();
}

int PartList::wholeHeight() {
    return headingHeight + rowHeight * juce::jmax(1, getNumRows());
}

void PartList::resized() {
    const auto area = getLocalBounds().withTrimmedTop(headingHeight);
    list.setBounds(area.withHeight(juce::jmax(1, area.getHeight() / rowHeight) * rowHeight)); // no row is cut
}

void PartList::paint(juce::Graphics& g) {
    g.setColour(Look::themeOf(*this).quiet);
    g.setFont(boldFont(grid::caption));
    paintColumns(g, getLocalBounds().withHeight(headingHeight).reduced(inset, 0).toFloat(), headings);
}

void PartList::paintOverChildren(juce::Graphics& g) {
    if (list.hasKeyboardFocus(true))
        Look::drawFocus(g, list.getBounds().toFloat(), Look::themeOf(*this));
}

int PartList::getNumRows() {
    return shown ? static_cast<int>(shown->spots.size()) : 0;
}

juce::String PartList::getNameForRow(int row) {
    return row >= 0 && row < getNumRows() ? toText(shown->spots[static_cast<std::size_t>(row)].words)
                                          : juce::String();
}

juce::String PartList::getTooltipForRow(int row) {
    return described(getNameForRow(row), words::spotsHelp);
}

void PartList::paintListBoxItem(int row, juce::Graphics& g, int width, int height, bool selected) {
    if (row < 0 || row >= getNumRows())
        return;
    const Theme& theme = Look::themeOf(*this);
    const auto area = juce::Rectangle<int>(0, 0, width, height).toFloat();
    if (selected) {
        g.setColour(theme.raised);
        g.fillRoundedRectangle(area, 6.0F);
        g.setColour(theme.accent);
        g.fillRoundedRectangle(area.withWidth(4.0F), 2.0F);
    }
    g.setColour(theme.text);
    g.setFont(plainFont(grid::body));
    paintColumns(g, area.reduced(inset, 0.0F), cellsOf(*shown, shown->spots[static_cast<std::size_t>(row)]));
}

void PartList::selectedRowsChanged(int) {
    if (onChoice)
        onChoice();
}

void PartList::returnKeyPressed(int) {
    if (onTaken)
        onTaken();
}

void PartList::listBoxItemDoubleClicked(int row, const juce::MouseEvent&) {
    returnKeyPressed(row);
}

} // namespace valveladder
