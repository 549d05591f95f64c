#include "Screen/LadderView.h"

#include "Screen/Look.h"
#include "Screen/Signs.h"
#include "Screen/Type.h"
#include "Screen/Wrap.h"
#include "View/Words.h"

#include <algorithm>

namespace valveladder {

namespace {

constexpr float headHeight = 26.0F; ///< the chosen rung's name
constexpr float highestRung = 124.0F;
constexpr float lowestRung = 30.0F;
constexpr float railWidth = 4.0F;
constexpr float railGap = 6.0F;
constexpr float cellGap = 4.0F;
constexpr float round = 3.0F;
constexpr float signSize = 12.0F;

} // namespace

LadderView::LadderView() {
    setTitle(words::ladderTitle);
    setHelpText(words::ladderHelp);
    setTooltip(words::ladderHelp);
    setWantsKeyboardFocus(true);
}

void LadderView::show(const TakeModel& model) {
    playing = false;
    setWantsKeyboardFocus(true);
    rungs = model.rungs;
    segmentNames = model.segmentNames;
    cell = within(cell);
    say();
    repaint();
}

void LadderView::show(const PlayModel& model) {
    const Score& score = model.setup->score();
    if (score.notes.empty())
        return;
    const ScoreNote& note = score.notes[std::min(model.note, score.notes.size() - 1)];
    showDrill(score, {note.rung, note.segment});
}

void LadderView::showDrill(const Score& score, const CellPlace& now) {
    const bool same = playing && segmentNames == score.segmentNames &&
                      rungs.size() == score.rungLabels.size() &&
                      std::equal(rungs.begin(), rungs.end(), score.rungLabels.begin(),
                                 [](const RungModel& a, const std::string& b) { return a.label == b; });
    if (same && now == cell)
        return;
    if (!same) {
        playing = true;
        setWantsKeyboardFocus(false);
        segmentNames = score.segmentNames;
        rungs.clear();
        for (const std::string& label : score.rungLabels)
            rungs.push_back({label, std::vector<CellModel>(segmentNames.size())});
    }
    cell = within(now);
    say();
    repaint();
}

void LadderView::setNames(const PitchNames& wanted) {
    if (wanted == names)
        return;
    names = wanted;
    say();
    repaint();
}

CellPlace LadderView::within(const CellPlace& wanted) const {
    return {juce::jlimit(0, juce::jmax(0, static_cast<int>(rungs.size()) - 1), wanted.rung),
            juce::jlimit(0, juce::jmax(0, static_cast<int>(segmentNames.size()) - 1), wanted.segment)};
}

const CellModel& LadderView::cellOf(const CellPlace& place) const {
    return rungs[static_cast<std::size_t>(place.rung)].cells[static_cast<std::size_t>(place.segment)];
}

std::string LadderView::labelOf(int rungIndex) const {
    return withPitchNames(rungs[static_cast<std::size_t>(rungIndex)].label, names);
}

int LadderView::rungsShown() const {
    const int fit = static_cast<int>((static_cast<float>(getHeight()) - headHeight) / lowestRung);
    return juce::jlimit(1, juce::jmax(1, static_cast<int>(rungs.size())), fit);
}

int LadderView::lowestShown() const {
    return juce::jlimit(0, juce::jmax(0, static_cast<int>(rungs.size()) - rungsShown()),
                        cell.rung - rungsShown() / 2);
}

float LadderView::rungHeight() const {
    const auto count = static_cast<float>(rungsShown());
    return std::min(highestRung, (static_cast<float>(getHeight()) - headHeight) / count);
}

juce::Rectangle<float> LadderView::cellArea(const CellPlace& place) const {
    const auto columns = static_cast<float>(juce::jmax<std::size_t>(1, segmentNames.size()));
    const float left = railWidth + railGap;
    const float wide = (static_cast<float>(getWidth()) - 2 * left + cellGap) / columns;
    const float high = rungHeight();
    const float bottom = headHeight + high * static_cast<float>(rungsShown());
    return {left + wide * static_cast<float>(place.segment),
            bottom - high * static_cast<float>(place.rung - lowestShown() + 1) + cellGap, wide - cellGap,
            high - 2 * cellGap};
}

std::optional<CellPlace> LadderView::cellAt(juce::Point<float> point) const {
    for (int r = lowestShown(); r < std::min(static_cast<int>(rungs.size()), lowestShown() + rungsShown());
         ++r)
        for (int s = 0; s < static_cast<int>(segmentNames.size()); ++s)
            if (cellArea({r, s}).expanded(cellGap / 2).contains(point))
                return CellPlace{r, s};
    return std::nullopt;
}

void LadderView::choose(const CellPlace& wanted) {
    if (rungs.empty())
        return;
    cell = within(wanted);
    say();
    repaint();
    if (onChoice)
        onChoice();
}

void LadderView::say() {
    if (rungs.empty())
        return;
    setSaid(toText(wordsOf(cell)));
}

std::string LadderView::wordsOf(const CellPlace& place) const {
    const std::string text =
        labelOf(place.rung) + ", " + segmentNames[static_cast<std::size_t>(place.segment)];
    return playing ? text : text + ": " + cellOf(place).words;
}

bool LadderView::keyPressed(const juce::KeyPress& key) {
    if (playing)
        return false;
    if (key == juce::KeyPress::upKey)
        choose({cell.rung + 1, cell.segment});
    else if (key == juce::KeyPress::downKey)
        choose({cell.rung - 1, cell.segment});
    else if (key == juce::KeyPress::leftKey)
        choose({cell.rung, cell.segment - 1});
    else if (key == juce::KeyPress::rightKey)
        choose({cell.rung, cell.segment + 1});
    else if (key == juce::KeyPress::returnKey && onTaken)
        onTaken();
    else
        return false;
    return true;
}

void LadderView::mouseDown(const juce::MouseEvent& event) {
    const auto found = cellAt(event.position);
    if (!found || playing)
        return;
    choose(*found);
    if (onTaken)
        onTaken();
}

void LadderView::mouseMove(const juce::MouseEvent& event) {
    const auto found = cellAt(event.position);
    setTooltip(found ? toText(wordsOf(*found)) : juce::String(words::ladderHelp));
}

void LadderView::paint(juce::Graphics& g) {
    const Theme& theme = Look::themeOf(*this);
    if (rungs.empty())
        return;
    g.setColour(theme.text);
    g.setFont(boldFont(grid::caption));
    drawLine(g, toText(labelOf(cell.rung)), getLocalBounds().toFloat().withHeight(headHeight - 4.0F),
             juce::Justification::centred);
    paintRails(g);
    for (int r = lowestShown(); r < lowestShown() + rungsShown(); ++r)
        for (int s = 0; s < static_cast<int>(segmentNames.size()); ++s)
            paintCell(g, {r, s});
    if (hasKeyboardFocus(false))
        Look::drawFocus(g, getLocalBounds().toFloat(), theme);
}

void LadderView::paintRails(juce::Graphics& g) const {
    const auto top = cellArea({lowestShown() + rungsShown() - 1, 0}).getY() - 2.0F;
    const auto bottom = cellArea({lowestShown(), 0}).getBottom() + 2.0F;
    g.setColour(Look::themeOf(*this).line);
    g.fillRoundedRectangle(0.0F, top, railWidth, bottom - top, railWidth / 2);
    g.fillRoundedRectangle(static_cast<float>(getWidth()) - railWidth, top, railWidth, bottom - top,
                           railWidth / 2);
}

void LadderView::paintCell(juce::Graphics& g, const CellPlace& place) const {
    const Theme& theme = Look::themeOf(*this);
    const auto area = cellArea(place);
    if (playing)
        paintPassed(g, place, area);
    else
        paintPlayed(g, cellOf(place), area);
    if (place == cell) {
        g.setColour(playing ? theme.accent : theme.text);
        g.drawRoundedRectangle(area.expanded(2.0F), round + 2.0F, 2.5F);
    }
}

void LadderView::paintPassed(juce::Graphics& g, const CellPlace& place, juce::Rectangle<float> area) const {
    const Theme& theme = Look::themeOf(*this);
    const bool passed = place.rung < cell.rung || (place.rung == cell.rung && place.segment < cell.segment);
    g.setColour(place == cell ? theme.accent : passed ? theme.quiet : theme.raised);
    g.fillRoundedRectangle(area, round);
}

/// Right through: a tick. With faults: their number. Right, but with a breath or out of time: a ring.
void LadderView::paintPlayed(juce::Graphics& g, const CellModel& model, juce::Rectangle<float> area) const {
    const Theme& theme = Look::themeOf(*this);
    const bool faulty = model.played && model.faults > 0;
    const juce::Colour fill = !model.played ? theme.raised
                              : faulty      ? theme.alarm
                              : model.clean ? theme.good
                                            : theme.accent;
    g.setColour(fill);
    g.fillRoundedRectangle(area, round);
    if (!model.played)
        return;
    if (faulty) {
        g.setColour(theme.onAlarm);
        g.setFont(boldFont(grid::caption));
        drawLine(g, model.faults > 99 ? juce::String("99") : juce::String(model.faults),
                 area.expanded(3.0F, 0.0F), juce::Justification::centred);
        return;
    }
    paintSign(g, model.clean ? Sign::tick : Sign::open, area.withSizeKeepingCentre(signSize, signSize),
              model.clean ? theme.onGood : theme.onAccent);
}

} // namespace valveladder
