#include "Screen/StaffView.h"

#include "Engraving/Spacing.h"
#include "Screen/Look.h"
#include "Screen/Type.h"
#include "Screen/ValveCaps.h"
#include "Screen/Wrap.h"
#include "View/Words.h"

#include <algorithm>
#include <cmath>

namespace valveladder {

namespace {

// In staff spaces.
constexpr double laneSpaces = 2.0;
constexpr double stripGap = 0.8;
constexpr double aboveHeads = 4.6; ///< stem, beam and slur
constexpr double belowHeads = 3.4; ///< accent and slur
constexpr double fewestSpacesWide = 46.0;
constexpr double clefRoom = 8.0;
constexpr float largestSpace = 44.0F;

/// Edge of the sheet around what is written on it, px.
constexpr int sheetEdge = 16;

constexpr float lineWidth = 3.0F;
constexpr int moverReach = 12;

double staffY(MidiNote written, Clef clef, Spelling names) {
    const int bottom = clef == Clef::treble ? 30 : 18;
    return 4.0 - (spell(written, names).place() - bottom) / 2.0;
}

} // namespace

StaffView::StaffView() {
    setTitle(words::staffTitle);
    setOpaque(true);
    still.setOpaque(true);
    still.setAccessible(false);
    mover.setAccessible(false);
    addAndMakeVisible(still);
    addAndMakeVisible(mover);
}

void StaffView::Mover::paint(juce::Graphics& g) {
    staff.paintMoving(g);
}

void StaffView::Still::paint(juce::Graphics& g) {
    staff.paintKept(g);
}

void StaffView::paint(juce::Graphics& g) {
    g.fillAll(Look::themeOf(*this).ground);
}

void StaffView::resized() {
    still.setBounds(getLocalBounds());
    mover.setBounds(getLocalBounds());
    layOutDrill();
    if (newest.setup)
        show(PlayModel(newest), newestJumpy, PitchNames(newestNames));
}

void StaffView::chooseSizes() {
    const Score& score = setup->score();
    const Instrument& instrument = setup->config.instrument;
    const Spelling names = staffSpelling();
    double top = 0.0;
    double bottom = 4.0;
    for (const ScoreNote& note : score.notes) {
        top = std::min(top, staffY(note.written, instrument.clef, names));
        bottom = std::max(bottom, staffY(note.written, instrument.clef, names));
    }
    top = std::min(top - 1.0, staffY(score.notes.front().written, instrument.clef, names) - aboveHeads);
    top = std::min(top, -2.2);
    bottom += belowHeads;
    const int valves = instrument.valves;
    const double spacesHigh = bottom - top + stripGap + valves * laneSpaces;
    const auto sheet = getLocalBounds().reduced(sheetEdge, sheetEdge / 2);
    const auto byHeight = static_cast<float>(sheet.getHeight() / spacesHigh);
    const auto byWidth = static_cast<float>(sheet.getWidth() / fewestSpacesWide);
    staffPlace.space = juce::jlimit(4.0F, largestSpace, std::min(byHeight, byWidth));
    const float used = static_cast<float>(spacesHigh) * staffPlace.space;
    const float spare = (static_cast<float>(getHeight()) - used) / 2;
    staffPlace.left = static_cast<float>(sheetEdge);
    staffPlace.top = std::round(spare - static_cast<float>(top) * staffPlace.space);
    laneHeight = std::round(static_cast<float>(laneSpaces) * staffPlace.space);
    stripTop = std::round(staffPlace.y(bottom + stripGap));
    spacesWide = sheet.getWidth() / static_cast<double>(staffPlace.space);
}

/// The staff shows written pitch, whatever pitch the names are of.
Spelling StaffView::staffSpelling() const {
    return newestNames.sounding ? writtenSpelling(setup->config.drill, setup->config.instrument)
                                : newestNames.spelling;
}

void StaffView::layOutDrill() {
    pages.clear();
    if (!setup || getWidth() == 0 || getHeight() == 0)
        return;
    chooseSizes();
    auto laid = layOut(setup->score(), setup->config.drill, staffSpelling());
    layout.reset();
    if (!laid) {
        refusal = laid.problem().text();
        redraw();
        return;
    }
    layout = std::move(laid.value());
    pages = pagesOf(setup->score(), *layout, quartersWithin(setup->score(), spacesWide - clefRoom));
    engravePage(std::min(pageIndex, pages.size() - 1));
}

void StaffView::engravePage(std::size_t index) {
    pageIndex = index;
    engraving = engrave(setup->score(), setup->config.instrument, *layout, pages[index], spacesWide,
                        clearSpacing(setup->score(), *layout, pages[index], spacesWide));
    holds = valveStrip(setup->score(), pages[index]);
    redraw();
}

/// That of the note that sounds, or in a breath of the one that comes, so that it can be read ahead; the last
/// one behind the end.
std::size_t StaffView::pageOfNote(std::size_t note) const {
    const auto behind = std::find_if(pages.begin(), pages.end(), [note](const Page& page) {
        return note < static_cast<std::size_t>(page.firstNote + page.noteCount);
    });
    return behind == pages.end() ? pages.size() - 1 : static_cast<std::size_t>(behind - pages.begin());
}

StaffView::Place StaffView::placeOf(const PlayModel& model, bool jumpy) const {
    Place next;
    next.moving = model.moving;
    next.note = model.note;
    next.heard = model.heard;
    double tick = model.tick;
    const auto& notes = setup->score().notes;
    if (jumpy && model.note < notes.size())
        tick = std::min(tick, static_cast<double>(notes[model.note].onset));
    next.x = static_cast<double>(staffPlace.x(engraving.xAt(tick)));
    return next;
}

void StaffView::show(const PlayModel& model, bool jumpy, const PitchNames& names) {
    newest = model;
    newestJumpy = jumpy;
    const bool renamed = !(names == newestNames);
    newestNames = names;
    if (model.setup != setup || renamed) {
        const bool same = !renamed && setup && setup->track == model.setup->track &&
                          setup->config.instrument == model.setup->config.instrument;
        setup = model.setup;
        if (!same) {
            pageIndex = 0;
            layOutDrill();
        }
    }
    if (pages.empty())
        return;
    const std::size_t wanted = model.moving ? pageOfNote(model.note) : 0;
    if (wanted != pageIndex)
        engravePage(wanted);
    const Place next = placeOf(model, jumpy);
    if (said().isEmpty() || model.note != place.note || names != saidNames)
        setSaid(toText(words::place(setup->score(), model.note, names)));
    saidNames = names;
    if (next == place)
        return;
    repaintWhatMoved(next);
    place = next;
}

void StaffView::repaintWhatMoved(const Place& next) {
    if (next.note != place.note || next.moving != place.moving) {
        mover.repaint(noteArea(place.note));
        mover.repaint(noteArea(next.note));
    }
    if (next.heard != place.heard)
        for (const auto& heard : {place.heard, next.heard})
            if (heard)
                mover.repaint(noteArea(heard->note));
    const auto left = static_cast<int>(std::floor(std::min(place.x, next.x))) - moverReach;
    const auto right = static_cast<int>(std::ceil(std::max(place.x, next.x))) + moverReach;
    mover.repaint(left, 0, right - left, getHeight());
}

juce::Rectangle<int> StaffView::noteArea(std::size_t note) const {
    for (const EngravedHead& head : engraving.heads)
        if (head.note == static_cast<int>(note)) {
            const float reach = 3.5F * staffPlace.space;
            return juce::Rectangle<float>(staffPlace.x(head.x) - reach, 0.0F, 2 * reach,
                                          static_cast<float>(getHeight()))
                .getSmallestIntegerContainer();
        }
    return {};
}

juce::Rectangle<float> StaffView::lane(int valve) const {
    return {staffPlace.left, stripTop + static_cast<float>(valve - 1) * laneHeight,
            static_cast<float>(getWidth() - 2 * sheetEdge), laneHeight};
}

juce::Rectangle<float> StaffView::holdArea(const ValveHold& hold) const {
    const float from = staffPlace.x(engraving.xAt(static_cast<double>(hold.from)));
    const float to = staffPlace.x(engraving.xAt(static_cast<double>(hold.to)));
    const auto row = lane(hold.valve);
    return row.withTrimmedTop(std::round(laneHeight * 0.16F))
        .withTrimmedBottom(std::round(laneHeight * 0.12F))
        .withX(from)
        .withWidth(to - from);
}

void StaffView::redraw() {
    kept = {};
    still.repaint();
    mover.repaint();
}

/// Glyphs are costly to draw and stand still: they are drawn once and copied. On paper they stay shapes.
void StaffView::paintKept(juce::Graphics& g) {
    if (g.isVectorDevice()) {
        paintStill(g);
        return;
    }
    const float scale = g.getInternalContext().getPhysicalPixelScaleFactor();
    if (!kept.isValid() || scale < keptScale || scale > keptScale) {
        keptScale = scale;
        const auto area = (getLocalBounds().toFloat() * scale).getSmallestIntegerContainer();
        kept = juce::Image(juce::Image::RGB, juce::jmax(1, area.getWidth()), juce::jmax(1, area.getHeight()),
                           false, juce::SoftwareImageType());
        juce::Graphics on(kept);
        on.addTransform(juce::AffineTransform::scale(scale));
        paintStill(on);
    }
    g.drawImageTransformed(kept, juce::AffineTransform::scale(1.0F / scale));
}

void StaffView::paintStill(juce::Graphics& g) const {
    const Theme& theme = Look::themeOf(*this);
    g.fillAll(theme.ground);
    g.setColour(theme.paper);
    g.fillRoundedRectangle(getLocalBounds().toFloat(), grid::corner);
    if (!setup)
        return;
    if (pages.empty()) {
        g.setColour(theme.ink);
        g.setFont(plainFont(grid::lead));
        drawWrapped(g, toText(refusal), plainFont(grid::lead),
                    getLocalBounds().toFloat().reduced(grid::margin));
        return;
    }
    paintEngraving(g, engraving, staffPlace, theme.ink, theme.staffLine);
    paintStrip(g);
}

void StaffView::paintStrip(juce::Graphics& g) const {
    const Theme& theme = Look::themeOf(*this);
    const Instrument& instrument = setup->config.instrument;
    const float left = staffPlace.x(engraving.timeLeft);
    for (int valve = 1; valve <= instrument.valves; ++valve) {
        const auto row = lane(valve);
        g.setColour(theme.faintInk);
        g.fillRect(left - staffPlace.space, row.getBottom() - 1.0F, row.getRight() - left + staffPlace.space,
                   1.0F);
        g.setColour(theme.quietInk);
        g.setFont(boldFont(juce::jlimit(15.0F, 26.0F, laneHeight * 0.58F)));
        drawLine(g, toText(valveName(valve, instrument.thumbValve)),
                 row.withRight(left - 2 * staffPlace.space), juce::Justification::centredRight);
    }
    for (const ValveHold& hold : holds)
        paintHold(g, holdArea(hold), theme.faintInk, juce::Colours::transparentBlack);
}

/// Valves fill up as the position passes them.
void StaffView::paintDone(juce::Graphics& g) const {
    const Theme& theme = Look::themeOf(*this);
    const auto x = static_cast<float>(place.x);
    for (const ValveHold& hold : holds) {
        auto area = holdArea(hold);
        if (area.getX() >= x)
            continue;
        area.setRight(std::min(x, area.getRight()));
        paintHold(g, area, theme.accent, theme.accentInk); // brass alone is too light on paper
    }
}

void StaffView::paintMoving(juce::Graphics& g) const {
    if (!place.moving || pages.empty())
        return;
    const Theme& theme = Look::themeOf(*this);
    paintDone(g);
    if (place.note < setup->score().notes.size())
        paintNote(g, engraving, staffPlace, static_cast<int>(place.note), theme.accentInk);
    paintHeard(g);
    const auto x = static_cast<float>(place.x);
    if (x < staffPlace.x(engraving.timeLeft - 1.0))
        return; // in the breath before
    const float bottom = stripTop + laneHeight * static_cast<float>(setup->config.instrument.valves);
    const float top = staffPlace.y(-2.0);
    g.setColour(theme.accentInk);
    g.fillRect(x - lineWidth / 2, top, lineWidth, bottom - top);
    juce::Path head;
    head.addTriangle(x - 7.0F, top - 4.0F, x + 7.0F, top - 4.0F, x, top + 8.0F);
    g.fillPath(head);
}

/// Where the listener hears the player: a small open roof between staff and strip, under the note; crossed
/// out where the pitch is another one. Its shape alone tells it from the position.
void StaffView::paintHeard(juce::Graphics& g) const {
    if (!place.heard)
        return;
    for (const EngravedHead& head : engraving.heads) {
        if (head.note != static_cast<int>(place.heard->note))
            continue;
        const float x = staffPlace.x(head.x);
        const float y = stripTop - 0.45F * staffPlace.space;
        const float reach = 0.55F * staffPlace.space;
        juce::Path roof;
        roof.startNewSubPath(x - reach, y + reach * 0.6F);
        roof.lineTo(x, y - reach * 0.6F);
        roof.lineTo(x + reach, y + reach * 0.6F);
        if (!place.heard->asWritten) {
            roof.startNewSubPath(x - reach, y);
            roof.lineTo(x + reach, y);
        }
        g.setColour(Look::themeOf(*this).ink);
        g.strokePath(roof, juce::PathStrokeType(2.0F));
        return;
    }
}

} // namespace valveladder
