// How a take's segment is drawn: what stands where is laid out in ResultStaff.cpp.

#include "Screen/Look.h"
#include "Screen/ResultSigns.h"
#include "Screen/ResultStaff.h"
#include "Screen/Type.h"
#include "Screen/ValveCaps.h"
#include "Screen/Wrap.h"
#include "View/Words.h"

#include <algorithm>

namespace valveladder {

namespace {

using Kind = NoteSign::Kind;

constexpr float signSize = 15.0F;
constexpr float lateWidth = 19.0F; ///< of a valve with its finger's number

} // namespace

void ResultStaff::paint(juce::Graphics& g) {
    const Theme& theme = Look::themeOf(*this);
    g.setColour(theme.paper);
    g.fillRoundedRectangle(getLocalBounds().toFloat(), grid::corner);
    if (hasKeyboardFocus(false))
        Look::drawFocus(g, getLocalBounds().toFloat(), theme);
    if (!staff)
        return;
    paintHere(g);
    paintEngraving(g, staff->music, staff->place, theme.ink, theme.staffLine);
    const float foot = staff->foot;
    for (const Shown& shown : notes) {
        if (isFault(shown.sign.kind))
            paintNote(g, staff->music, staff->place, shown.note.index, theme.alarmInk);
        paintSign(g, shown, foot);
        paintAsides(g, shown, foot + signRow + fingeringHeight());
    }
    paintFingerings(g);
    paintSlowest(g, foot + signRow + fingeringHeight() + asideHeight());
    paintFoot(g);
}

/// Behind the note that sounds, and the one that is chosen.
void ResultStaff::paintHere(juce::Graphics& g) const {
    const float top = staff->place.y(-1.0);
    const float half = std::min(22.0F, room() / 2);
    g.setColour(Look::themeOf(*this).faintInk);
    for (std::size_t i = 0; i < notes.size(); ++i) {
        const bool here = notes[i].note.index == sounding ||
                          ((hasKeyboardFocus(false) || isPicked) && static_cast<int>(i) == chosen);
        if (here)
            g.fillRoundedRectangle(notes[i].x - half, top, 2 * half,
                                   staff->foot + signRow + fingeringHeight() + asideHeight() - top, 6.0F);
    }
}

void ResultStaff::paintSign(juce::Graphics& g, const Shown& shown, float y) const {
    const Theme& theme = Look::themeOf(*this);
    const juce::Rectangle<float> row(shown.x - 30.0F, y, 60.0F, signRow);
    const Kind kind = shown.sign.kind;
    if (kind != Kind::early && kind != Kind::late) {
        valveladder::paintSign(g, signOf(kind), row.withSizeKeepingCentre(signSize, signSize),
                               inkOf(kind, theme));
        return;
    }
    const auto font = boldFont(grid::caption);
    const juce::String text = toText(shown.sign.text);
    const float wide = textWidth(font, text) + 12.0F;
    const bool pill = wide + 2.0F <= room();
    if (pill) {
        g.setColour(theme.alarmInk);
        g.fillRoundedRectangle(row.withSizeKeepingCentre(wide, 21.0F), 10.5F);
    }
    g.setColour(pill ? theme.paper : theme.alarmInk);
    g.setFont(font);
    drawLine(g, text, row, juce::Justification::centred);
}

void ResultStaff::paintFingerings(juce::Graphics& g) const {
    const Theme& theme = Look::themeOf(*this);
    for (const Fingering& each : fingerings()) {
        g.setFont(fingeringFont(each.fault));
        g.setColour(each.fault ? theme.alarmInk : theme.quietInk);
        drawLine(g, each.text, each.area, juce::Justification::centred);
    }
}

/// A breath over the staff, where it was taken; what concerns notes and valves under the fingering.
void ResultStaff::paintAsides(juce::Graphics& g, const Shown& shown, float y) const {
    std::vector<Sign> under;
    for (const NoteAside aside : shown.asides)
        if (aside == NoteAside::extra || aside == NoteAside::valves)
            under.push_back(signOf(aside));
    const juce::Colour ink = Look::themeOf(*this).alarmInk;
    const float step = signSize + 3.0F;
    float x = shown.x - step * static_cast<float>(under.size()) / 2;
    for (const Sign sign : under) {
        const juce::Rectangle<float> place(x, y, step, asideRow);
        valveladder::paintSign(g, sign, place.withSizeKeepingCentre(signSize, signSize), ink);
        x += step;
    }
    if (std::ranges::find(shown.asides, NoteAside::breath) != shown.asides.end())
        valveladder::paintSign(
            g, Sign::breath,
            juce::Rectangle<float>(breathRow, breathRow)
                .withCentre({shown.into, staff->place.y(std::min(0.0, staff->music.top)) - breathRow / 2})
                .withSizeKeepingCentre(signSize, signSize),
            ink);
    paintLateFingers(g, shown, y);
}

/// A valve with the finger's number for each that came after the others, in the change where it did.
void ResultStaff::paintLateFingers(juce::Graphics& g, const Shown& shown, float y) const {
    const Theme& theme = Look::themeOf(*this);
    std::vector<juce::String> late;
    for (int valve = 1; valve <= maxValves; ++valve)
        if (shown.note.lateFingers.has(valve))
            late.push_back(toText(valveName(valve, take->logged.instrument.thumbValve)));
    const bool alone = shown.asides.size() == 1;
    float x =
        (alone ? shown.into : shown.into - signSize / 2) - lateWidth * static_cast<float>(late.size()) / 2;
    g.setFont(boldFont(grid::caption));
    for (const juce::String& number : late) {
        const juce::Rectangle<float> capsule(x + 1.0F, y + 1.0F, lateWidth - 2.0F, asideRow - 2.0F);
        g.setColour(theme.alarmInk);
        g.fillRoundedRectangle(capsule, capsule.getWidth() / 2);
        g.setColour(theme.paper);
        drawLine(g, number, capsule, juce::Justification::centred);
        x += lateWidth;
    }
}

/// A bracket from the note before to the note that the slowest change leads into.
void ResultStaff::paintSlowest(juce::Graphics& g, float y) const {
    if (!slowest)
        return;
    for (std::size_t i = 1; i < notes.size(); ++i) {
        if (notes[i].note.index != *slowest)
            continue;
        const Theme& theme = Look::themeOf(*this);
        const float left = notes[i - 1].x;
        const float right = notes[i].x;
        juce::Path bracket;
        bracket.startNewSubPath(left, y);
        bracket.lineTo(left, y + 5.0F);
        bracket.lineTo(right, y + 5.0F);
        bracket.lineTo(right, y);
        g.setColour(theme.accentInk);
        g.strokePath(bracket, juce::PathStrokeType(2.0F));
        const juce::String text = toText(words::slowestChangeWords(*notes[i].note.changeoverMs));
        const auto font = boldFont(grid::caption);
        g.setFont(font);
        const float wide = textWidth(font, text) + 4.0F;
        const float x =
            juce::jlimit(edge, static_cast<float>(getWidth()) - edge - wide, (left + right) / 2 - wide / 2);
        drawLine(g, text, juce::Rectangle<float>(x, y + 6.0F, wide, slowestRow - 6.0F),
                 juce::Justification::centred);
        return;
    }
}

/// Which segment it is, and what its signs mean.
void ResultStaff::paintFoot(juce::Graphics& g) const {
    const Theme& theme = Look::themeOf(*this);
    if (legendShown)
        legend.paint(g, legendArea(), theme.quietInk);
    g.setColour(theme.quietInk);
    g.setFont(boldFont(grid::caption));
    drawLine(g, where(), footArea().removeFromBottom(SignLegend::lineHeight),
             juce::Justification::centredLeft);
}

} // namespace valveladder
