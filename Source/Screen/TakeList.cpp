#include "Screen/TakeList.h"

#include "Screen/Heading.h"
#include "Screen/Look.h"
#include "Screen/RowLook.h"
#include "Screen/SaidComponent.h"
#include "Screen/Signs.h"
#include "Screen/Type.h"
#include "Screen/Wrap.h"
#include "View/LocalTime.h"
#include "View/Words.h"

namespace valveladder {

namespace {

constexpr float timeWidth = 98.0F;

bool same(const std::vector<TakeSummary>& a, const std::vector<TakeSummary>& b) {
    return std::equal(a.begin(), a.end(), b.begin(), b.end(), [](const TakeSummary& x, const TakeSummary& y) {
        return x.header.id == y.header.id && x.state == y.state && x.playerNote == y.playerNote &&
               x.passed == y.passed && x.right == y.right && x.extra == y.extra && x.breaths == y.breaths;
    });
}

Sign signOf(const TakeSummary& take) {
    if (take.state != TakeState::whole)
        return Sign::open;
    return take.passed ? Sign::tick : Sign::cross;
}

} // namespace

TakeList::TakeList() {
    list.setRowHeight(rowHeight);
    list.setTitle(words::takesTitle);
    list.setHelpText(words::takesHelp);
    list.setTooltip(words::takesHelp);
    addAndMakeVisible(list);
}

TakeList::~TakeList() {
    list.setModel(nullptr);
}

void TakeList::show(const std::vector<TakeSummary>& takes) {
    std::vector<TakeSummary> next(takes.rbegin(), takes.rend());
    if (same(next, newest))
        return;
    const std::string before = chosen() != nullptr ? chosen()->header.id : "";
    const bool atNewest = list.getSelectedRow() <= 0;
    newest = std::move(next);
    list.updateContent();
    if (atNewest || before.empty())
        list.selectRow(0);
    else
        choose(before);
    list.repaint();
}

void TakeList::choose(const std::string& id) {
    for (int row = 0; row < getNumRows(); ++row)
        if (newest[static_cast<std::size_t>(row)].header.id == id)
            list.selectRow(row);
}

const TakeSummary* TakeList::at(int row) const {
    return row >= 0 && row < static_cast<int>(newest.size()) ? &newest[static_cast<std::size_t>(row)]
                                                             : nullptr;
}

const TakeSummary* TakeList::chosen() const {
    return at(list.getSelectedRow());
}

void TakeList::resized() {
    list.setBounds(wholeRows(getLocalBounds().withTrimmedTop(grid::heading), rowHeight));
}

void TakeList::paint(juce::Graphics& g) {
    drawHeading(g, words::takesTitle, getLocalBounds(), Look::themeOf(*this).quiet);
}

void TakeList::paintOverChildren(juce::Graphics& g) {
    drawListFocus(g, list);
}

int TakeList::getNumRows() {
    return static_cast<int>(newest.size());
}

juce::String TakeList::getNameForRow(int row) {
    const TakeSummary* take = at(row);
    if (take == nullptr)
        return {};
    const words::TakeLine line = words::takeLine(*take);
    return toText(words::timeOf(take->header.startedUtc, take->header.timeZone) + ", " + line.tempo + " " +
                  words::bpmWord + ", " + line.notes + ", " + line.faults + ", " + line.verdict +
                  (take->playerNote.empty() ? "" : ", " + take->playerNote));
}

juce::String TakeList::getTooltipForRow(int row) {
    return described(getNameForRow(row), words::takesHelp);
}

void TakeList::paintListBoxItem(int row, juce::Graphics& g, int width, int height, bool selected) {
    const TakeSummary* take = at(row);
    if (take == nullptr)
        return;
    const Theme& theme = Look::themeOf(*this);
    auto area = juce::Rectangle<int>(0, 0, width, height).reduced(0, 2).toFloat();
    if (selected)
        paintChosenRow(g, area, theme);
    area.reduce(12.0F, 4.0F);
    const words::TakeLine line = words::takeLine(*take);
    paintSign(g, signOf(*take), area.removeFromRight(18.0F).withSizeKeepingCentre(16.0F, 16.0F),
              take->passed ? theme.accent : theme.quiet);
    auto upper = area.removeFromTop(area.getHeight() / 2);
    g.setColour(theme.text);
    g.setFont(boldFont(grid::body));
    const juce::String tempo = toText(words::playedOfPlanned(*take));
    drawLine(g, tempo, upper.removeFromLeft(upper.getWidth() - timeWidth), juce::Justification::centredLeft);
    g.setFont(plainFont(grid::caption));
    g.setColour(theme.quiet);
    drawLine(g, toText(words::timeOf(take->header.startedUtc, take->header.timeZone)),
             upper.withTrimmedRight(8.0F), juce::Justification::centredRight);
    const juce::String lower =
        take->playerNote.empty() ? toText(line.notes + "  " + line.faults) : toText(take->playerNote);
    const auto lines = wrapped(lower, plainFont(grid::caption), area.getWidth() - 24.0F);
    drawLine(g, lines.front() + (lines.size() > 1 ? " ..." : ""), area, juce::Justification::centredLeft);
}

void TakeList::selectedRowsChanged(int row) {
    if (const TakeSummary* take = at(row); take != nullptr && onChoice)
        onChoice(take->header.id);
}

void TakeList::returnKeyPressed(int row) {
    if (const TakeSummary* take = at(row); take != nullptr && onNoteWanted)
        onNoteWanted(*take);
}

void TakeList::listBoxItemDoubleClicked(int row, const juce::MouseEvent&) {
    returnKeyPressed(row);
}

} // namespace valveladder
