#include "Screen/HandView.h"

#include "Screen/Look.h"
#include "Screen/Type.h"
#include "Screen/Wrap.h"
#include "View/Words.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace valveladder {

namespace {

constexpr float headHeight = 30.0F;
constexpr float legendHeight = 22.0F;
constexpr float axisWidth = 44.0F;
constexpr float palmHeight = 42.0F;
constexpr double gridMs = 50.0;

/// Lengths of index, middle, ring and little finger as shares of the longest: of a usual hand, no source.
constexpr std::array<float, 4> fingerLengths{0.88F, 1.0F, 0.93F, 0.74F};

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
    fingers = model.fingersOnHand;
    thumb = model.thumbValve;
    reach = reachOver(whiskers);
    setSaid(saidOf(whiskers));
    repaint();
}

juce::Rectangle<float> HandView::plot() const {
    return getLocalBounds()
        .toFloat()
        .withTrimmedTop(headHeight)
        .withTrimmedLeft(axisWidth)
        .withTrimmedBottom(palmHeight + legendHeight);
}

juce::Rectangle<float> HandView::fingerArea(int finger) const {
    const auto area = plot();
    const float slot = std::min(96.0F, area.getWidth() / 4.2F);
    const float left = area.getX() + slot * (static_cast<float>(finger - 1) + 0.1F);
    return {left, area.getY(), slot, area.getHeight()};
}

float HandView::yOf(double ms) const {
    const auto area = plot();
    return area.getBottom() - static_cast<float>(ms / reach) * area.getHeight();
}

void HandView::paint(juce::Graphics& g) {
    const Theme& theme = Look::themeOf(*this);
    g.setColour(theme.text);
    g.setFont(boldFont(grid::body));
    drawLine(g, words::handTitle, getLocalBounds().withHeight(22), juce::Justification::centredLeft);
    paintHand(g);
    paintScale(g);
    for (const WhiskerModel& whisker : whiskers)
        paintWhisker(g, whisker);
}

void HandView::paintHand(juce::Graphics& g) const {
    const Theme& theme = Look::themeOf(*this);
    juce::Path hand;
    const auto area = plot();
    for (int finger = 1; finger <= 4; ++finger) {
        const auto slot = fingerArea(finger);
        const float width = slot.getWidth() * 0.84F;
        const float length = slot.getHeight() * fingerLengths[static_cast<std::size_t>(finger - 1)];
        hand.addRoundedRectangle(slot.getCentreX() - width / 2, area.getBottom() - length, width,
                                 length + palmHeight * 0.6F, width / 2, width / 2, true, true, false, false);
    }
    const auto first = fingerArea(1);
    const auto last = fingerArea(4);
    const float inset = first.getWidth() * 0.08F;
    hand.addRoundedRectangle(first.getX() + inset, area.getBottom() + 4.0F,
                             last.getRight() - first.getX() - 2 * inset, palmHeight - 4.0F, 14.0F, 14.0F,
                             false, false, true, true);
    g.setColour(theme.raised.withMultipliedAlpha(theme.isDark ? 0.7F : 0.8F));
    g.fillPath(hand);
    g.setFont(boldFont(grid::lead));
    for (int finger = 1; finger <= 4; ++finger) {
        const bool used = finger <= (thumb ? 3 : fingers);
        g.setColour(used ? theme.text : theme.quiet);
        if (used)
            drawLine(g, juce::String(finger),
                     fingerArea(finger).withY(area.getBottom() + 8.0F).withHeight(palmHeight - 10.0F),
                     juce::Justification::centred);
    }
}

void HandView::paintScale(juce::Graphics& g) const {
    const Theme& theme = Look::themeOf(*this);
    const auto area = plot();
    for (double ms = 0.0; ms <= reach + 1.0; ms += gridMs) {
        const float y = std::round(yOf(ms));
        g.setColour(theme.line.withAlpha(0.7F));
        g.fillRect(area.getX(), y, fingerArea(4).getRight() - area.getX(), 1.0F);
        g.setColour(theme.quiet);
        g.setFont(plainFont(grid::caption));
        drawLine(g, juce::String(juce::roundToInt(ms)),
                 juce::Rectangle<float>(0.0F, y - 9.0F, axisWidth - 10.0F, 18.0F),
                 juce::Justification::centredRight);
    }
    const float y = static_cast<float>(getHeight()) - legendHeight;
    g.setFont(plainFont(grid::caption));
    g.setColour(theme.text);
    g.fillEllipse(area.getX() + 2.0F, y + 6.0F, 10.0F, 10.0F);
    g.drawEllipse(area.getX() + 99.0F, y + 7.0F, 8.0F, 8.0F, 2.0F);
    g.setColour(theme.quiet);
    drawLine(g, words::pressing, juce::Rectangle<float>(area.getX() + 18.0F, y, 76.0F, legendHeight),
             juce::Justification::centredLeft);
    drawLine(g, words::releasing, juce::Rectangle<float>(area.getX() + 114.0F, y, 90.0F, legendHeight),
             juce::Justification::centredLeft);
}

void HandView::paintWhisker(juce::Graphics& g, const WhiskerModel& whisker) const {
    if (thumb && whisker.finger == 4)
        return; // it is told with the changes: the thumb is not seen from the back
    const Theme& theme = Look::themeOf(*this);
    const auto slot = fingerArea(whisker.finger);
    const float x = slot.getCentreX() + slot.getWidth() * (whisker.pressing ? -0.17F : 0.17F);
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
        g.setColour(theme.raised);
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
    const Theme& theme = Look::themeOf(*this);
    g.setColour(theme.text);
    g.setFont(boldFont(grid::body));
    drawLine(g, words::changesTitle, getLocalBounds().withHeight(22), juce::Justification::centredLeft);
    auto area = getLocalBounds().toFloat().withTrimmedTop(headHeight);
    const float height =
        std::min(30.0F, area.getHeight() / static_cast<float>(std::max<std::size_t>(1, rows.size())));
    if (height < 16.0F)
        return;
    for (const WhiskerModel& row : rows)
        paintRow(g, row, area.removeFromTop(height));
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
