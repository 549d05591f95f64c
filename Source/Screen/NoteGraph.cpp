#include "Screen/NoteGraph.h"

#include "Screen/Heading.h"
#include "Screen/Look.h"
#include "Screen/Signs.h"
#include "Screen/Type.h"
#include "Screen/Wrap.h"
#include "View/Words.h"

#include <algorithm>
#include <cmath>

namespace valveladder {

namespace {

constexpr float axisWidth = 64.0F;
constexpr float captionHeight = 22.0F;
constexpr float captionGap = 10.0F;
constexpr float noNamesHeight = 6.0F;
constexpr float dotSize = 9.0F;
constexpr float leastNameSlot = 13.0F;
constexpr float leastCombinationSlot = 22.0F;
constexpr float segmentGap = 1.2F; ///< notes' widths between segments

const char* titleOf(NoteMeasure measure) {
    switch (measure) {
    case NoteMeasure::deviation:
        return words::deviationTitle;
    case NoteMeasure::changeover:
        return words::changeoverTitle;
    case NoteMeasure::intonation:
        break;
    }
    return words::intonationTitle;
}

} // namespace

NoteGraph::NoteGraph(NoteMeasure shownMeasure) : measure(shownMeasure) {
    model.measure = measure;
    setTitle(titleOf(measure));
    setHelpText(words::graphHelp);
    setTooltip(words::graphHelp);
    setWantsKeyboardFocus(true);
}

void NoteGraph::show(const TakeModel* first, const TakeModel* second, int rung, int segment) {
    model = graphModel(measure, first, second, rung);
    reach = graphReach(measure, first, second);
    marked = segment;
    say();
    repaint();
}

void NoteGraph::setNames(const PitchNames& wanted) {
    names = wanted;
    say();
    repaint();
}

void NoteGraph::setChosen(int noteIndex) {
    if (chosen == noteIndex)
        return;
    chosen = noteIndex;
    say();
    repaint();
}

void NoteGraph::showPitches(bool wanted) {
    if (pitches == wanted)
        return;
    pitches = wanted;
    repaint();
}

void NoteGraph::setSounding(int noteIndex) {
    if (sounding == noteIndex)
        return;
    sounding = noteIndex;
    repaint();
}

/// What is chosen as the value; everything, note by note, as the description.
void NoteGraph::say() {
    const juce::String summary = toText(model.summary());
    const auto point = model.pointOf(chosen);
    setSaid(point && measured() ? toText(model.wordsOf(model.points[*point], names)) : summary);
    juce::String all = summary;
    if (measured())
        for (const GraphPoint& each : model.points)
            all << ". " << toText(model.wordsOf(each, names));
    setDescription(all);
}

juce::Rectangle<float> NoteGraph::plot() const {
    return getLocalBounds()
        .toFloat()
        .withTrimmedLeft(axisWidth)
        .withTrimmedRight(dotSize)
        .withTrimmedTop(captionHeight + captionGap)
        .withTrimmedBottom(noNamesHeight + (pitches ? static_cast<float>(extraForNames) : 0.0F));
}

float NoteGraph::xOf(std::size_t point) const {
    const auto area = plot();
    const int gaps = model.points.empty() ? 0 : model.points.back().segment - model.points.front().segment;
    const float slots = static_cast<float>(model.points.size()) + static_cast<float>(gaps) * segmentGap;
    const float before =
        static_cast<float>(point) +
        static_cast<float>(model.points[point].segment - model.points.front().segment) * segmentGap;
    return area.getX() + (before + 0.5F) / std::max(1.0F, slots) * area.getWidth();
}

float NoteGraph::yOf(double value) const {
    const auto area = plot();
    const double share = measure == NoteMeasure::changeover ? value / reach : (value / reach + 1.0) / 2.0;
    return area.getBottom() - static_cast<float>(std::clamp(share, 0.0, 1.0)) * area.getHeight();
}

float NoteGraph::titleWidth() const {
    return textWidth(boldFont(grid::body), titleOf(measure));
}

void NoteGraph::paint(juce::Graphics& g) {
    drawHeading(g, titleOf(measure), getLocalBounds().withHeight(static_cast<int>(captionHeight)),
                Look::themeOf(*this).text, juce::Justification::centredLeft);
    if (measured()) {
        paintAxis(g);
        paintValues(g);
        if (pitches)
            paintNames(g);
    } else {
        paintNotMeasured(g);
    }
    if (hasKeyboardFocus(false))
        paintFocus(g);
}

void NoteGraph::paintNotMeasured(juce::Graphics& g) const {
    const int left = juce::roundToInt(titleWidth()) + grid::gutter;
    g.setColour(Look::themeOf(*this).quiet);
    g.setFont(plainFont(grid::body));
    drawLine(g, toText(model.notMeasured),
             getLocalBounds().withHeight(static_cast<int>(captionHeight)).withTrimmedLeft(left),
             juce::Justification::centredLeft);
}

/// The ring of every control, around what is under the title or, where that is a line of words, beside it.
void NoteGraph::paintFocus(juce::Graphics& g) const {
    const auto whole = getLocalBounds().toFloat();
    const float beside = titleWidth() + static_cast<float>(grid::gutter - grid::unit);
    Look::drawFocus(g, measured() ? whole.withTrimmedTop(captionHeight) : whole.withTrimmedLeft(beside),
                    Look::themeOf(*this));
}

void NoteGraph::paintValues(juce::Graphics& g) const {
    const float shift = model.twoTakes ? dotSize * 0.55F : 0.0F;
    for (std::size_t i = 0; i < model.points.size(); ++i) {
        const GraphPoint& point = model.points[i];
        const float x = xOf(i);
        paintValue(g, x - shift, point.first, true);
        if (model.twoTakes)
            paintValue(g, x + shift, point.second, false);
        if (measure != NoteMeasure::deviation)
            continue;
        if (point.outcome != Outcome::right)
            paintFault(g, x - shift, 0.0F);
        if (point.secondOutcome != Outcome::right)
            paintFault(g, x + shift, 0.0F);
    }
}

void NoteGraph::paintAxis(juce::Graphics& g) const {
    const Theme& theme = Look::themeOf(*this);
    const auto area = plot();
    const bool fromZero = measure == NoteMeasure::changeover;
    for (const double value :
         fromZero ? std::vector<double>{0.0, reach / 2, reach} : std::vector<double>{-reach, 0.0, reach}) {
        const float y = std::round(yOf(value));
        const bool zero = std::abs(value) < 1e-9;
        g.setColour(zero ? theme.quiet : theme.line);
        g.fillRect(area.getX(), y, area.getWidth(), 1.0F);
        g.setColour(theme.quiet);
        g.setFont(plainFont(grid::caption));
        drawLine(g, toText(words::axisValue(value, !fromZero)),
                 juce::Rectangle<float>(0.0F, y - 9.0F, axisWidth - 10.0F, 18.0F),
                 juce::Justification::centredRight);
    }
    paintMarked(g);
    paintChosen(g);
}

/// The segment that is chosen on the ladder.
void NoteGraph::paintMarked(juce::Graphics& g) const {
    float left = 1e9F;
    float right = -1e9F;
    for (std::size_t i = 0; i < model.points.size(); ++i)
        if (model.points[i].segment == marked) {
            left = std::min(left, xOf(i));
            right = std::max(right, xOf(i));
        }
    if (left > right)
        return;
    const float around = noteSlot() * 0.6F;
    g.setColour(Look::themeOf(*this).accent.withAlpha(0.12F));
    g.fillRect(left - around, plot().getY(), right - left + 2 * around, plot().getHeight());
}

/// A line with open ends at the chosen note, one with a filled head at the one that sounds.
void NoteGraph::paintChosen(juce::Graphics& g) const {
    const Theme& theme = Look::themeOf(*this);
    const auto area = plot();
    if (const auto point = model.pointOf(chosen)) {
        const float x = std::round(xOf(*point));
        g.setColour(hasKeyboardFocus(false) ? theme.accent : theme.quiet);
        g.fillRect(x - 0.5F, area.getY(), 1.0F, area.getHeight());
        for (const float y : {area.getY(), area.getBottom() - 1.0F})
            g.fillRect(x - 5.0F, y, 10.0F, 2.0F);
    }
    if (const auto point = model.pointOf(sounding)) {
        const float x = xOf(*point);
        g.setColour(theme.accent);
        g.fillRect(x - 1.0F, area.getY(), 2.0F, area.getHeight());
        juce::Path head;
        head.addTriangle(x - 6.0F, area.getY() - 8.0F, x + 6.0F, area.getY() - 8.0F, x, area.getY() + 2.0F);
        g.fillPath(head);
    }
}

float NoteGraph::noteSlot() const {
    return model.points.size() > 1 ? xOf(1) - xOf(0) : 40.0F;
}

/// A stem from zero with a head; beyond the axis the head becomes a point.
void NoteGraph::paintValue(juce::Graphics& g, float x, const std::optional<double>& value,
                           bool filled) const {
    if (!value)
        return;
    const Theme& theme = Look::themeOf(*this);
    const float zero = yOf(0.0);
    const float y = yOf(*value);
    g.setColour(filled ? theme.accent : theme.text);
    g.fillRect(x - 0.75F, std::min(zero, y), 1.5F, std::abs(zero - y));
    const float size = std::clamp(noteSlot() * 0.85F, 5.0F, dotSize);
    const juce::Rectangle<float> dot(x - size / 2, y - size / 2, size, size);
    const bool beyond = std::abs(*value) > reach;
    juce::Path head;
    if (beyond) {
        const float up = *value > 0 ? -1.0F : 1.0F;
        head.addTriangle(x - size / 2, y - up * size, x + size / 2, y - up * size, x, y);
    } else if (filled) {
        head.addEllipse(dot);
    } else {
        head.addRectangle(dot.reduced(1.0F));
    }
    if (!filled) {
        g.setColour(theme.panel);
        g.fillPath(head);
        g.setColour(theme.text);
        g.strokePath(head, juce::PathStrokeType(1.6F));
        return;
    }
    g.fillPath(head);
}

void NoteGraph::paintFault(juce::Graphics& g, float x, float shift) const {
    const Theme& theme = Look::themeOf(*this);
    paintSign(g, Sign::cross, {x - 6.0F, plot().getY() + shift, 12.0F, 12.0F}, theme.alarm);
}

void NoteGraph::paintNames(juce::Graphics& g) const {
    const Theme& theme = Look::themeOf(*this);
    const float top = plot().getBottom() + 2.0F;
    const float slot = noteSlot();
    for (std::size_t i = 0; i < model.points.size(); ++i) {
        const juce::Rectangle<float> box(xOf(i) - 24.0F, top, 48.0F, 18.0F);
        g.setColour(theme.quiet);
        if (slot < leastNameSlot)
            return;
        const juce::String name = toText(nameOf(model.points[i], names));
        g.setFont(plainFont(slot >= 22.0F ? grid::caption : 11.0F));
        drawLine(g, name.trimCharactersAtEnd("-0123456789"), box, juce::Justification::centred);
        if (slot < leastCombinationSlot)
            continue;
        g.setColour(theme.text);
        g.setFont(plainFont(slot >= 30.0F ? grid::caption : 11.0F));
        drawLine(g, toText(model.points[i].combination), box.translated(0.0F, 17.0F),
                 juce::Justification::centred);
    }
}

void NoteGraph::mouseDown(const juce::MouseEvent& event) {
    if (model.points.empty() || !measured())
        return;
    std::size_t nearest = 0;
    for (std::size_t i = 1; i < model.points.size(); ++i)
        if (std::abs(xOf(i) - event.position.x) < std::abs(xOf(nearest) - event.position.x))
            nearest = i;
    if (onChosen)
        onChosen(model.points[nearest].index);
    if (onNote)
        onNote(model.points[nearest].index);
}

bool NoteGraph::keyPressed(const juce::KeyPress& key) {
    const bool left = key == juce::KeyPress::leftKey;
    if (model.points.empty() || !measured() ||
        !(left || key == juce::KeyPress::rightKey || key == juce::KeyPress::returnKey))
        return false;
    const auto at = model.pointOf(chosen);
    if (key == juce::KeyPress::returnKey) {
        if (at && onNote)
            onNote(chosen);
        return true;
    }
    std::size_t next = at.value_or(0);
    if (at && left && next > 0)
        --next;
    else if (at && !left && next + 1 < model.points.size())
        ++next;
    if (onChosen)
        onChosen(model.points[next].index);
    return true;
}

} // namespace valveladder
