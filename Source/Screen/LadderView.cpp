#include "Screen/LadderView.h"

#include "Screen/Look.h"
#include "Screen/MusicFont.h"
#include "Screen/Signs.h"
#include "Screen/Type.h"
#include "View/Words.h"

namespace valveladder {

namespace {

constexpr float labelWidth = 84.0F;
constexpr float headHeight = 24.0F;
constexpr float highestRung = 58.0F;
constexpr float lowestRung = 24.0F;
constexpr float railWidth = 3.0F;
constexpr float cellGap = 4.0F;

} // namespace

LadderView::LadderView() {
    setTitle(words::ladderTitle);
    setHelpText(words::ladderHelp);
    setWantsKeyboardFocus(true);
}

void LadderView::show(const TakeModel& model) {
    rungs = model.rungs;
    segmentNames = model.segmentNames;
    transposition = model.notes.empty() ? 0 : model.notes.front().sounding - model.notes.front().written;
    rung = juce::jlimit(0, juce::jmax(0, static_cast<int>(rungs.size()) - 1), rung);
    segment = juce::jlimit(0, juce::jmax(0, static_cast<int>(segmentNames.size()) - 1), segment);
    say();
    repaint();
}

void LadderView::setNames(const PitchNames& wanted) {
    names = wanted;
    say();
    repaint();
}

std::string LadderView::labelOf(int rungIndex) const {
    return rungName(rungs[static_cast<std::size_t>(rungIndex)].label, names, transposition);
}

int LadderView::rungsShown() const {
    const int fit = static_cast<int>((static_cast<float>(getHeight()) - headHeight) / lowestRung);
    return juce::jlimit(1, juce::jmax(1, static_cast<int>(rungs.size())), fit);
}

int LadderView::lowestShown() const {
    return juce::jlimit(0, juce::jmax(0, static_cast<int>(rungs.size()) - rungsShown()),
                        rung - rungsShown() / 2);
}

float LadderView::rungHeight() const {
    const auto count = static_cast<float>(rungsShown());
    return juce::jlimit(lowestRung, highestRung, (static_cast<float>(getHeight()) - headHeight) / count);
}

juce::Rectangle<float> LadderView::cellArea(int rungIndex, int segmentIndex) const {
    const auto columns = static_cast<float>(juce::jmax<std::size_t>(1, segmentNames.size()));
    const float left = labelWidth + railWidth + cellGap;
    const float width = (static_cast<float>(getWidth()) - left - railWidth - cellGap) / columns;
    const float height = rungHeight();
    const float bottom = headHeight + height * static_cast<float>(rungsShown());
    return juce::Rectangle<float>(left + width * static_cast<float>(segmentIndex),
                                  bottom - height * static_cast<float>(rungIndex - lowestShown() + 1), width,
                                  height)
        .reduced(cellGap / 2, juce::jmin(8.0F, height * 0.14F));
}

LadderView::Position LadderView::cellAt(juce::Point<float> point) const {
    for (int r = lowestShown(); r < lowestShown() + rungsShown(); ++r)
        for (int s = 0; s < static_cast<int>(segmentNames.size()); ++s)
            if (cellArea(r, s).contains(point))
                return {r, s};
    return {};
}

void LadderView::choose(int rungIndex, int segmentIndex) {
    if (rungs.empty())
        return;
    rung = juce::jlimit(0, static_cast<int>(rungs.size()) - 1, rungIndex);
    segment = juce::jlimit(0, static_cast<int>(segmentNames.size()) - 1, segmentIndex);
    say();
    repaint();
    if (onChoice)
        onChoice();
}

void LadderView::say() {
    if (rungs.empty())
        return;
    const RungModel& chosen = rungs[static_cast<std::size_t>(rung)];
    setSaid(toText(labelOf(rung) + ", " + segmentNames[static_cast<std::size_t>(segment)] + ": " +
                   chosen.cells[static_cast<std::size_t>(segment)].words));
}

bool LadderView::keyPressed(const juce::KeyPress& key) {
    if (key == juce::KeyPress::upKey)
        choose(rung + 1, segment);
    else if (key == juce::KeyPress::downKey)
        choose(rung - 1, segment);
    else if (key == juce::KeyPress::leftKey)
        choose(rung, segment - 1);
    else if (key == juce::KeyPress::rightKey)
        choose(rung, segment + 1);
    else
        return false;
    return true;
}

void LadderView::mouseDown(const juce::MouseEvent& event) {
    if (const Position found = cellAt(event.position); found.rung >= 0)
        choose(found.rung, found.segment);
}

void LadderView::mouseMove(const juce::MouseEvent& event) {
    const Position found = cellAt(event.position);
    setTooltip(found.rung < 0 ? juce::String()
                              : toText(rungs[static_cast<std::size_t>(found.rung)]
                                           .cells[static_cast<std::size_t>(found.segment)]
                                           .words));
}

void LadderView::paint(juce::Graphics& g) {
    const Theme& theme = Look::themeOf(*this);
    if (rungs.empty())
        return;
    paintRails(g);
    paintHeads(g);
    for (int r = lowestShown(); r < lowestShown() + rungsShown(); ++r) {
        const RungModel& each = rungs[static_cast<std::size_t>(r)];
        const auto first = cellArea(r, 0);
        g.setColour(r == rung ? theme.text : theme.quiet);
        drawPitchText(g, toText(labelOf(r)), {0.0F, first.getY(), labelWidth - 8.0F, first.getHeight()},
                      r == rung ? boldFont(grid::body) : plainFont(grid::body), juce::Justification::right);
        for (int s = 0; s < static_cast<int>(each.cells.size()); ++s)
            paintCell(g, each.cells[static_cast<std::size_t>(s)], cellArea(r, s), r == rung && s == segment);
    }
    if (hasKeyboardFocus(false))
        Look::drawFocus(g, getLocalBounds().toFloat(), theme);
}

void LadderView::paintRails(juce::Graphics& g) const {
    const Theme& theme = Look::themeOf(*this);
    const auto top = cellArea(lowestShown() + rungsShown() - 1, 0).getY() - 6.0F;
    const auto bottom = cellArea(lowestShown(), 0).getBottom() + 6.0F;
    g.setColour(theme.line);
    g.fillRect(labelWidth, top, railWidth, bottom - top);
    g.fillRect(static_cast<float>(getWidth()) - railWidth, top, railWidth, bottom - top);
}

void LadderView::paintHeads(juce::Graphics& g) const {
    const Theme& theme = Look::themeOf(*this);
    g.setColour(theme.quiet);
    g.setFont(plainFont(grid::caption));
    const int top = lowestShown() + rungsShown() - 1;
    for (int s = 0; s < static_cast<int>(segmentNames.size()); ++s) {
        const auto cell = cellArea(top, s);
        g.drawFittedText(
            toText(segmentNames[static_cast<std::size_t>(s)]),
            juce::Rectangle<float>(cell.getX(), 0.0F, cell.getWidth(), headHeight - 4.0F).toNearestInt(),
            juce::Justification::centredLeft, 1, 0.7F);
    }
}

void LadderView::paintCell(juce::Graphics& g, const CellModel& cell, juce::Rectangle<float> area,
                           bool chosen) const {
    const Theme& theme = Look::themeOf(*this);
    constexpr float round = 3.0F;
    g.setColour(theme.raised);
    g.fillRoundedRectangle(area, round);
    const float share =
        cell.expected > 0 ? static_cast<float>(cell.right) / static_cast<float>(cell.expected) : 0.0F;
    const juce::Colour fill = cell.clean ? theme.accent : theme.accent.interpolatedWith(theme.raised, 0.55F);
    if (cell.played && share > 0.0F) {
        g.setColour(fill);
        g.fillRoundedRectangle(area.withWidth(area.getWidth() * share), round);
    }
    const auto sign = area.withTrimmedLeft(8.0F).withWidth(16.0F).withSizeKeepingCentre(15.0F, 15.0F);
    if (cell.clean) {
        paintSign(g, Sign::tick, sign, theme.onAccent);
    } else if (cell.played) {
        auto label = area.withTrimmedRight(8.0F);
        const juce::Rectangle<float> pill = label.removeFromRight(26.0F).withSizeKeepingCentre(
            26.0F, juce::jmin(20.0F, area.getHeight() - 4.0F));
        g.setColour(theme.panel);
        g.fillRoundedRectangle(pill, pill.getHeight() / 2);
        g.setColour(theme.text);
        g.setFont(boldFont(grid::caption));
        g.drawText(juce::String(cell.faults), pill, juce::Justification::centred, false);
    }
    if (chosen) {
        g.setColour(hasKeyboardFocus(false) ? theme.accent : theme.text);
        g.drawRoundedRectangle(area.expanded(2.0F), round + 2.0F, 2.0F);
    }
}

} // namespace valveladder
