#include "Screen/PartList.h"

#include "Screen/Look.h"
#include "Screen/RowLook.h"
#include "Screen/SaidComponent.h"
#include "Screen/Type.h"
#include "Screen/Wrap.h"
#include "View/Words.h"

#include <array>
#include <fmt/format.h>

namespace valveladder {

namespace {

constexpr int rowHeight = 30;
constexpr int headingHeight = 42; ///< of two lines
constexpr int inset = 12;
constexpr float headGap = 2.0F; ///< under a head

using Columns = std::array<std::string, PartList::columnCount>;

/// Shares of the width.
constexpr std::array<float, PartList::columnCount> shares{0.14F, 0.24F, 0.11F, 0.16F, 0.20F, 0.15F};
constexpr std::array<const char*, PartList::columnCount> headings{words::spotBars,  words::spotChange,
                                                                  words::spotTimes, words::spotSpeed,
                                                                  words::spotLimit, words::spotCost};

Columns cellsOf(const OpenedPart& part, const Spot& spot) {
    const auto number = [&](int bar) { return part.line.bars[static_cast<std::size_t>(bar)].number; };
    const Instrument& instrument = part.request.instrument;
    return {spot.firstBar == spot.lastBar ? number(spot.firstBar)
                                          : number(spot.firstBar) + "-" + number(spot.lastBar),
            changeName(spot.change, instrument.thumbValve),
            spot.passes > 1 ? fmt::format("{}{}{}", spot.times, words::timesPlayed, spot.passes)
                            : std::to_string(spot.times),
            fmt::format("{:.2g}", spot.changesPerSecond),
            spot.limit ? fmt::format("{:.2g}", *spot.limit) : words::limitUnknown,
            fmt::format("{:.0f} %", 100.0 * spot.timeShare())};
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
    list.setBounds(wholeRows(getLocalBounds().withTrimmedTop(headingHeight), rowHeight));
}

juce::Rectangle<float> PartList::head() const {
    return juce::Rectangle<int>(list.getVisibleRowWidth(), headingHeight).toFloat();
}

juce::Rectangle<float> PartList::columnAt(int column, juce::Rectangle<float> row) const {
    auto area = row.reduced(inset, 0.0F);
    const float whole = area.getWidth();
    for (int before = 0; before < column; ++before)
        area.removeFromLeft(whole * shares[static_cast<std::size_t>(before)]);
    return area.withWidth(whole * shares[static_cast<std::size_t>(column)]);
}

juce::String PartList::getTooltip() {
    const auto at = getMouseXYRelative().toFloat();
    for (int column = 0; column < columnCount; ++column)
        if (columnAt(column, head()).contains(at))
            return words::spotColumnHelps[static_cast<std::size_t>(column)];
    return words::spotsHelp;
}

/// Heads end over their columns, on two lines where they need them.
void PartList::paint(juce::Graphics& g) {
    const auto font = boldFont(grid::caption);
    g.setColour(Look::themeOf(*this).quiet);
    for (int column = 0; column < columnCount; ++column) {
        const juce::String text = headings[static_cast<std::size_t>(column)];
        auto area = columnAt(column, head());
        area.removeFromRight(grid::unit);
        area.removeFromTop(area.getHeight() - heightOf(text, font, area.getWidth()) - headGap);
        drawWrapped(g, text, font, area);
    }
}

void PartList::paintOverChildren(juce::Graphics& g) {
    drawListFocus(g, list);
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
    if (selected)
        paintChosenRow(g, area, theme);
    g.setColour(theme.text);
    g.setFont(plainFont(grid::body));
    const Columns cells = cellsOf(*shown, shown->spots[static_cast<std::size_t>(row)]);
    for (int column = 0; column < columnCount; ++column)
        drawLine(g, toText(cells[static_cast<std::size_t>(column)]), columnAt(column, area),
                 juce::Justification::centredLeft);
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
