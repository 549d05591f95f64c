#include "Screen/TempoStair.h"

#include "Screen/Heading.h"
#include "Screen/Look.h"
#include "Screen/Type.h"
#include "Screen/Wrap.h"
#include "View/LocalTime.h"
#include "View/Words.h"
#include "Words/PlanWords.h"

#include <algorithm>
#include <cmath>

namespace valveladder {

namespace {

constexpr float axisWidth = 44.0F;
constexpr float daysHeight = 58.0F;
constexpr double gridBpm = 10.0;
constexpr float widestDay = 96.0F;

} // namespace

TempoStair::TempoStair() {
    setTitle(words::tempoTitle);
}

void TempoStair::show(const StairModel& model) {
    days = model.days;
    missed = model.missedDays;
    findRange();
    setSaid(toText(model.plan));
    juce::String all;
    for (const PlanDay& day : days)
        all << toText(inWords(day)) << ". ";
    setDescription(all);
    repaint();
}

void TempoStair::findRange() {
    low = 1e9;
    high = -1e9;
    for (const PlanDay& day : days) {
        low = std::min({low, day.plannedLow, day.playedLow});
        high = std::max({high, day.plannedHigh, day.playedHigh});
    }
    low = std::floor((low - 2.0) / gridBpm) * gridBpm;
    high = std::ceil((high + 2.0) / gridBpm) * gridBpm;
}

juce::Rectangle<float> TempoStair::plot() const {
    return getLocalBounds()
        .toFloat()
        .withTrimmedTop(grid::heading)
        .withTrimmedLeft(axisWidth)
        .withTrimmedBottom(daysHeight);
}

float TempoStair::dayWidth() const {
    const auto count = static_cast<float>(days.back().day - days.front().day + 1);
    return std::min(widestDay, plot().getWidth() / count);
}

float TempoStair::xOf(std::int64_t day) const {
    return plot().getX() + dayWidth() * (static_cast<float>(day - days.front().day) + 0.5F);
}

float TempoStair::yOf(double bpm) const {
    const auto area = plot();
    return area.getBottom() - static_cast<float>((bpm - low) / (high - low)) * area.getHeight();
}

void TempoStair::paint(juce::Graphics& g) {
    drawHeading(g, juce::String(words::tempoTitle) + ", " + words::bpmWord, getLocalBounds(),
                Look::themeOf(*this).text);
    if (days.empty())
        return;
    paintAxes(g);
    paintPlan(g);
    paintPlayed(g);
    paintDays(g);
    paintLegend(g);
}

void TempoStair::paintAxes(juce::Graphics& g) const {
    const Theme& theme = Look::themeOf(*this);
    const auto area = plot();
    for (double bpm = low; bpm <= high + 1e-6; bpm += gridBpm) {
        const float y = std::round(yOf(bpm));
        g.setColour(theme.line);
        g.fillRect(area.getX(), y, area.getWidth(), 1.0F);
        g.setColour(theme.quiet);
        g.setFont(plainFont(grid::caption));
        drawLine(g, juce::String(juce::roundToInt(bpm)),
                 juce::Rectangle<float>(0.0F, y - 9.0F, axisWidth - 10.0F, 18.0F),
                 juce::Justification::centredRight);
    }
}

/// The stair: a tread a day, from its plan's highest tempo to the next day's.
void TempoStair::paintPlan(juce::Graphics& g) const {
    const Theme& theme = Look::themeOf(*this);
    const float half = dayWidth() / 2;
    juce::Path stair;
    for (const PlanDay& day : days) {
        const float x = xOf(day.day);
        const float y = yOf(day.plannedHigh);
        if (stair.isEmpty())
            stair.startNewSubPath(x - half, y);
        else
            stair.lineTo(x - half, stair.getCurrentPosition().y);
        stair.lineTo(x - half, y);
        stair.lineTo(x + half, y);
    }
    juce::Path under = stair;
    under.lineTo(under.getCurrentPosition().x, plot().getBottom());
    under.lineTo(xOf(days.front().day) - half, plot().getBottom());
    under.closeSubPath();
    g.setColour(theme.raised.withMultipliedAlpha(0.75F));
    g.fillPath(under);
    g.setColour(theme.quiet);
    g.strokePath(stair, juce::PathStrokeType(2.0F));
}

void TempoStair::paintPlayed(juce::Graphics& g) const {
    const Theme& theme = Look::themeOf(*this);
    for (const PlanDay& day : days) {
        const float x = xOf(day.day);
        g.setColour(theme.text);
        const float top = yOf(day.playedHigh);
        g.fillRoundedRectangle(x - 1.5F, top, 3.0F, std::max(3.0F, yOf(day.playedLow) - top), 1.5F);
        const float size = 11.0F;
        if (day.heldBpm) {
            g.setColour(theme.accent);
            g.fillEllipse(x - size / 2, yOf(*day.heldBpm) - size / 2, size, size);
        } else {
            g.setColour(theme.ground);
            g.fillEllipse(x - size / 2, top - size / 2, size, size);
            g.setColour(theme.text);
            g.drawEllipse(x - size / 2 + 1.0F, top - size / 2 + 1.0F, size - 2.0F, size - 2.0F, 2.0F);
        }
    }
}

/// How many takes each day held; days without one are left open.
void TempoStair::paintDays(juce::Graphics& g) const {
    const Theme& theme = Look::themeOf(*this);
    const float top = plot().getBottom() + 10.0F;
    const float side = std::clamp(dayWidth() - 4.0F, 3.0F, 24.0F);
    for (const PlanDay& day : days) {
        const juce::Rectangle<float> box(xOf(day.day) - side / 2, top, side, 22.0F);
        g.setColour(theme.raised);
        g.fillRoundedRectangle(box, 3.0F);
        g.setColour(theme.text);
        g.setFont(boldFont(grid::caption));
        if (side >= 16.0F)
            drawLine(g, juce::String(day.takes), box, juce::Justification::centred);
    }
    g.setColour(theme.line);
    for (const std::int64_t day : missed)
        g.drawRoundedRectangle(xOf(day) - side / 2 + 0.5F, top + 0.5F, side - 1.0F, 21.0F, 3.0F, 1.0F);
    g.setColour(theme.quiet);
    g.setFont(plainFont(grid::caption));
    float lastRight = -1000.0F;
    for (const PlanDay& day : days) {
        const float x = xOf(day.day);
        if (x - 26.0F < lastRight)
            continue;
        const juce::Rectangle<float> label(x - 30.0F, top + 26.0F, 60.0F, 18.0F);
        drawLine(g, toText(words::dayOf(day.day)), label.constrainedWithin(getLocalBounds().toFloat()),
                 juce::Justification::centred);
        lastRight = x + 40.0F;
    }
}

void TempoStair::paintLegend(juce::Graphics& g) const {
    const Theme& theme = Look::themeOf(*this);
    const auto font = plainFont(grid::caption);
    float x = static_cast<float>(getWidth());
    const auto entry = [&](const char* text, int kind) {
        const float width = textWidth(font, text);
        x -= width;
        g.setColour(theme.quiet);
        g.setFont(font);
        drawLine(g, text, juce::Rectangle<float>(x, 0.0F, width + 2.0F, 18.0F),
                 juce::Justification::centredLeft);
        x -= 18.0F;
        g.setColour(kind == 1 ? theme.accent : kind == 2 ? theme.text : theme.quiet);
        if (kind == 0)
            g.fillRect(x, 8.0F, 13.0F, 2.0F);
        else if (kind == 1)
            g.fillEllipse(x + 1.0F, 4.0F, 10.0F, 10.0F);
        else
            g.drawEllipse(x + 2.0F, 5.0F, 8.0F, 8.0F, 2.0F);
        x -= 18.0F;
    };
    entry(words::legendNotPassed, 2);
    entry(words::legendPassed, 1);
    entry(words::legendPlan, 0);
}

} // namespace valveladder
