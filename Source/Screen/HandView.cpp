#include "Screen/HandView.h"

#include "Screen/Heading.h"
#include "Screen/Look.h"
#include "Screen/Type.h"
#include "Screen/ValveCaps.h"
#include "Screen/Wrap.h"
#include "View/Words.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace valveladder {

namespace {

constexpr int nameLine = 22;
constexpr float legendHeight = 22.0F;
constexpr float axisWidth = 40.0F;
constexpr float handShare = 0.56F;     ///< of the height, beside the scale
constexpr float narrowestSlot = 54.0F; ///< from valve to valve
constexpr float widestSlot = 96.0F;
constexpr float slotShare = 0.5F; ///< of the hand's height
constexpr float gapUnderHand = 12.0F;
constexpr float valveShare = 0.4F;   ///< of the hand's height
constexpr float valveWidth = 0.44F;  ///< of a slot
constexpr float fingerWidth = 0.36F; ///< of a slot
constexpr float knuckleGap = 0.66F;  ///< of a slot: fingers spread from the knuckles on
constexpr float edge = 2.0F;
constexpr float leastForNails = 44.0F; ///< of a valve's height: where it is lower, its number has the room
constexpr float leastRow = 22.0F;      ///< of a change: as many are drawn as have it
constexpr float largestRow = 30.0F;
constexpr double gridMs = 50.0;

/// Where the knuckles of index, middle, ring and little finger lie, as shares of the hand's height from
/// above: of a usual hand, no source.
constexpr std::array<float, 4> knuckles{0.36F, 0.27F, 0.29F, 0.40F};

void strokeLimb(juce::Graphics& g, const juce::Path& limb, float width) {
    g.strokePath(limb,
                 juce::PathStrokeType(width, juce::PathStrokeType::curved, juce::PathStrokeType::rounded));
}

/// The scale's end that holds all intervals, in steps of the grid.
double reachOver(const std::vector<WhiskerModel>& whiskers) {
    double most = gridMs;
    for (const WhiskerModel& whisker : whiskers)
        most = std::max(most, whisker.ms.high);
    return std::ceil(most * 1.05 / gridMs) * gridMs;
}

juce::String saidOf(const std::vector<WhiskerModel>& whiskers) {
    juce::String text;
    for (const WhiskerModel& whisker : whiskers)
        text << toText(words::whiskerWords(whisker.name, whisker.ms, whisker.claimed)) << ". ";
    return text;
}

} // namespace

HandView::HandView() {
    setTitle(words::handTitle);
}

void HandView::show(const StairModel& model) {
    whiskers = model.fingers;
    columns.clear();
    const auto slow = [&model](int finger) {
        return std::any_of(model.fingers.begin(), model.fingers.end(), [finger](const WhiskerModel& each) {
            return each.finger == finger && each.claimed;
        });
    };
    if (model.thumbValve)
        columns.push_back({4, toText(valveName(4, true)), slow(4)});
    for (int finger = 1; finger <= (model.thumbValve ? 3 : model.fingersOnHand); ++finger)
        columns.push_back({finger, juce::String(finger), slow(finger)});
    reach = reachOver(whiskers);
    setSaid(saidOf(whiskers));
    repaint();
}

int HandView::places() const {
    const bool littleHasNone = columns.empty() || columns.back().finger == 3;
    return static_cast<int>(columns.size()) + (littleHasNone ? 1 : 0);
}

float HandView::slot() const {
    const float room = (static_cast<float>(getWidth()) - axisWidth) / (static_cast<float>(places()) + 0.4F);
    return std::min(room, juce::jlimit(narrowestSlot, widestSlot, figure().getHeight() * slotShare));
}

float HandView::middleOf(int place) const {
    return axisWidth + slot() * (static_cast<float>(place) + 0.7F);
}

juce::Rectangle<float> HandView::figure() const {
    auto area = getLocalBounds().toFloat().withTrimmedTop(grid::heading).withTrimmedBottom(legendHeight);
    return area.withHeight(area.getHeight() * handShare);
}

juce::Rectangle<float> HandView::valveAt(int place) const {
    const auto area = figure();
    const float height = area.getHeight() * valveShare;
    const float width = std::min(slot() * valveWidth, height * 0.8F);
    return {middleOf(place) - width / 2, area.getBottom() - height, width, height};
}

juce::Rectangle<float> HandView::plot() const {
    return getLocalBounds()
        .toFloat()
        .withTop(figure().getBottom() + gapUnderHand)
        .withTrimmedLeft(axisWidth)
        .withTrimmedBottom(legendHeight + 6.0F);
}

float HandView::yOf(double ms) const {
    const auto area = plot();
    return area.getBottom() - static_cast<float>(ms / reach) * area.getHeight();
}

bool HandView::slowAt(int place) const {
    return place < static_cast<int>(columns.size()) && columns[static_cast<std::size_t>(place)].slow;
}

void HandView::paint(juce::Graphics& g) {
    drawHeading(g, words::handTitle, getLocalBounds().withHeight(nameLine), Look::themeOf(*this).text,
                juce::Justification::centredLeft);
    paintValves(g);
    paintHand(g);
    paintNumbers(g);
    paintScale(g);
    paintLegend(g);
    for (const WhiskerModel& whisker : whiskers)
        paintWhisker(g, whisker);
}

void HandView::paintValves(juce::Graphics& g) const {
    const Theme& theme = Look::themeOf(*this);
    for (int place = 0; place < static_cast<int>(columns.size()); ++place) {
        const auto valve = valveAt(place);
        paintValve(g, valve, "", slowAt(place), {theme.accent, theme.onAccent, theme.quiet, theme.text});
    }
}

/// At the valves' feet, over whatever finger reaches down there.
void HandView::paintNumbers(juce::Graphics& g) const {
    const Theme& theme = Look::themeOf(*this);
    for (int place = 0; place < static_cast<int>(columns.size()); ++place) {
        const auto valve = valveAt(place);
        g.setColour(slowAt(place) ? theme.onAccent : theme.text);
        g.setFont(boldFont(grid::body));
        drawLine(g, columns[static_cast<std::size_t>(place)].number,
                 valve.withTop(valve.getBottom() - std::min(valve.getHeight() * 0.62F, 30.0F)),
                 juce::Justification::centred);
    }
}

/// From the front: the wrist above, fingers that spread from the knuckles, their tips on the valves.
std::vector<HandView::Limb> HandView::limbs() const {
    const bool thumb = !columns.empty() && columns.front().finger == 4;
    const int index = thumb ? 1 : 0;
    const float unit = slot();
    const float middle = (middleOf(index) + middleOf(index + 3)) / 2;
    const auto area = figure();
    std::vector<Limb> all;
    const auto add = [&](int place, juce::Point<float> from, juce::Point<float> bend) {
        Limb limb;
        const auto valve = valveAt(place);
        const bool onValve = place < static_cast<int>(columns.size());
        limb.slow = slowAt(place);
        limb.tip = {middleOf(place), onValve
                                         ? valve.getY() + (limb.slow ? valveTravel * valve.getHeight() : 0.0F)
                                         : valve.getY() - valve.getHeight() * 0.22F};
        limb.path.startNewSubPath(from);
        limb.path.quadraticTo(from + (limb.tip - from) * bend, limb.tip);
        all.push_back(limb);
    };
    if (thumb)
        add(0, {middle - 1.5F * knuckleGap * unit, area.getY() + 0.2F * area.getHeight()}, {0.6F, 0.1F});
    for (int finger = 0; finger < 4; ++finger)
        add(index + finger,
            {middle + (static_cast<float>(finger) - 1.5F) * knuckleGap * unit,
             area.getY() + knuckles[static_cast<std::size_t>(finger)] * area.getHeight()},
            {0.75F, 0.25F});
    return all;
}

juce::Path HandView::backOfHand() const {
    const bool thumb = !columns.empty() && columns.front().finger == 4;
    const int index = thumb ? 1 : 0;
    const float unit = slot();
    const float middle = (middleOf(index) + middleOf(index + 3)) / 2;
    const float knuckle = 1.5F * knuckleGap * unit;
    const auto at = [area = figure()](float share) { return area.getY() + share * area.getHeight(); };
    juce::Path back;
    back.startNewSubPath(middle - 0.62F * unit, at(0.0F));
    back.cubicTo(middle - 0.72F * unit, at(0.16F), middle - knuckle - 0.3F * unit, at(0.14F),
                 middle - knuckle - 0.17F * unit, at(knuckles.front()));
    back.lineTo(middle + knuckle + 0.17F * unit, at(knuckles.back()));
    back.cubicTo(middle + knuckle + 0.26F * unit, at(0.2F), middle + 0.7F * unit, at(0.18F),
                 middle + 0.66F * unit, at(0.0F));
    back.closeSubPath();
    return back;
}

/// All outlines first, then all fillings, so that the hand is one.
void HandView::paintHand(juce::Graphics& g) const {
    const Theme& theme = Look::themeOf(*this);
    const float width = slot() * fingerWidth;
    const auto back = backOfHand();
    const auto all = limbs();
    g.setColour(theme.quiet);
    strokeLimb(g, back, 2 * edge);
    for (const Limb& limb : all)
        strokeLimb(g, limb.path, width + 2 * edge);
    g.setColour(theme.raised);
    g.fillPath(back);
    for (const Limb& limb : all)
        strokeLimb(g, limb.path, width);
    for (const Limb& limb : all) {
        g.setColour(theme.accent);
        if (limb.slow)
            strokeLimb(g, limb.path, width);
        if (valveAt(0).getHeight() < leastForNails)
            continue;
        g.setColour((limb.slow ? theme.onAccent : theme.quiet).withAlpha(0.55F)); // the nail
        g.fillEllipse(juce::Rectangle<float>(width * 0.44F, width * 0.48F).withCentre(limb.tip));
    }
}

void HandView::paintScale(juce::Graphics& g) const {
    const Theme& theme = Look::themeOf(*this);
    const auto area = plot();
    const float right = middleOf(static_cast<int>(columns.size()) - 1) + slot() * 0.5F;
    const double step = area.getHeight() < 90.0F ? 2.0 * gridMs : gridMs;
    for (double ms = 0.0; ms <= reach + 1.0; ms += step) {
        const float y = std::round(yOf(ms));
        g.setColour(theme.line);
        g.fillRect(area.getX(), y, right - area.getX(), 1.0F);
        g.setColour(theme.quiet);
        g.setFont(plainFont(grid::caption));
        drawLine(g, juce::String(juce::roundToInt(ms)),
                 juce::Rectangle<float>(0.0F, y - 9.0F, axisWidth - 10.0F, 18.0F),
                 juce::Justification::centredRight);
    }
}

void HandView::paintLegend(juce::Graphics& g) const {
    const Theme& theme = Look::themeOf(*this);
    const float x = axisWidth;
    const float y = static_cast<float>(getHeight()) - legendHeight;
    g.setFont(plainFont(grid::caption));
    g.setColour(theme.text);
    g.fillEllipse(x + 2.0F, y + 6.0F, 10.0F, 10.0F);
    g.drawEllipse(x + 99.0F, y + 7.0F, 8.0F, 8.0F, 2.0F);
    g.setColour(theme.quiet);
    drawLine(g, words::pressing, juce::Rectangle<float>(x + 18.0F, y, 76.0F, legendHeight),
             juce::Justification::centredLeft);
    drawLine(g, words::releasing, juce::Rectangle<float>(x + 114.0F, y, 90.0F, legendHeight),
             juce::Justification::centredLeft);
}

void HandView::paintWhisker(juce::Graphics& g, const WhiskerModel& whisker) const {
    const auto column = std::find_if(columns.begin(), columns.end(), [&whisker](const Column& each) {
        return each.finger == whisker.finger;
    });
    if (column == columns.end())
        return;
    const Theme& theme = Look::themeOf(*this);
    const float x =
        middleOf(static_cast<int>(column - columns.begin())) + slot() * (whisker.pressing ? -0.25F : 0.25F);
    const juce::Colour colour = whisker.claimed ? theme.accent : theme.text;
    g.setColour(colour);
    const float top = yOf(whisker.ms.high);
    g.fillRoundedRectangle(x - 1.5F, top, 3.0F, std::max(2.0F, yOf(whisker.ms.low) - top), 1.5F);
    const float size = whisker.claimed ? 14.0F : 9.0F;
    if (yOf(whisker.ms.low) - top > size) {
        g.fillRect(x - 5.0F, top, 10.0F, 2.0F);
        g.fillRect(x - 5.0F, yOf(whisker.ms.low) - 2.0F, 10.0F, 2.0F);
    }
    const juce::Rectangle<float> dot(x - size / 2, yOf(whisker.ms.value) - size / 2, size, size);
    if (!whisker.pressing) {
        g.setColour(theme.ground);
        g.fillEllipse(dot);
        g.setColour(colour);
        g.drawEllipse(dot.reduced(1.0F), 2.4F);
    } else {
        g.fillEllipse(dot);
    }
    g.setColour(theme.text);
    g.setFont(whisker.claimed ? boldFont(grid::caption) : plainFont(grid::caption));
    drawLine(g, juce::String(juce::roundToInt(whisker.ms.value)),
             juce::Rectangle<float>(x - 22.0F, std::min(top, dot.getY()) - 18.0F, 44.0F, 16.0F),
             juce::Justification::centred);
}

ChangesView::ChangesView() {
    setTitle(words::changesTitle);
}

void ChangesView::show(const StairModel& model) {
    rows = model.changes;
    reach = reachOver(rows);
    setSaid(saidOf(rows));
    repaint();
}

void ChangesView::paint(juce::Graphics& g) {
    drawHeading(g, words::changesTitle, getLocalBounds().withHeight(nameLine), Look::themeOf(*this).text,
                juce::Justification::centredLeft);
    auto area = getLocalBounds().toFloat().withTrimmedTop(grid::heading);
    const float high =
        juce::jlimit(leastRow, largestRow, area.getHeight() / static_cast<float>(juce::jmax(1, rowsShown())));
    for (int row = 0; row < rowsShown(); ++row)
        paintRow(g, rows[static_cast<std::size_t>(row)], area.removeFromTop(high));
}

int ChangesView::rowsShown() const {
    const int fit = static_cast<int>((static_cast<float>(getHeight()) - grid::heading) / leastRow);
    return juce::jlimit(0, static_cast<int>(rows.size()), fit);
}

void ChangesView::paintRow(juce::Graphics& g, const WhiskerModel& whisker, juce::Rectangle<float> row) const {
    const Theme& theme = Look::themeOf(*this);
    const float mid = std::round(row.getCentreY());
    g.setColour(theme.text);
    g.setFont(whisker.claimed ? boldFont(grid::body) : plainFont(grid::body));
    drawLine(g, toText(whisker.name), row.removeFromLeft(104.0F), juce::Justification::centredLeft);
    drawLine(g, juce::String(juce::roundToInt(whisker.ms.value)), row.removeFromRight(40.0F),
             juce::Justification::centredRight);
    row.reduce(8.0F, 0.0F);
    g.setColour(theme.line);
    g.fillRect(row.getX(), mid, row.getWidth(), 1.0F);
    const auto x = [&](double ms) { return row.getX() + static_cast<float>(ms / reach) * row.getWidth(); };
    g.setColour(whisker.claimed ? theme.accent : theme.text);
    g.fillRoundedRectangle(x(whisker.ms.low), mid - 1.0F,
                           std::max(2.0F, x(whisker.ms.high) - x(whisker.ms.low)), 3.0F, 1.5F);
    const float size = whisker.claimed ? 13.0F : 9.0F;
    g.fillEllipse(x(whisker.ms.value) - size / 2, mid + 0.5F - size / 2, size, size);
}

} // namespace valveladder
