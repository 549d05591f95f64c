#include "Screen/ResultStaff.h"

#include "Screen/Look.h"
#include "Screen/Signs.h"
#include "Screen/Type.h"
#include "Screen/Wrap.h"
#include "View/Words.h"

#include <algorithm>
#include <cmath>
#include <set>

namespace valveladder {

namespace {

constexpr float edge = 16.0F;
constexpr float largestSpace = 17.0F;
constexpr float signRow = 26.0F;
constexpr float fingeringRow = 22.0F;
constexpr float slowestRow = 24.0F;
constexpr float footRow = 26.0F;
constexpr float signSize = 15.0F;

using Kind = NoteSign::Kind;

bool isFault(Kind kind) {
    return kind != Kind::right && kind != Kind::saidRight;
}

juce::Colour inkOf(Kind kind, const Theme& theme) {
    if (kind == Kind::saidRight)
        return theme.accentInk;
    return isFault(kind) ? theme.alarmInk : theme.goodInk;
}

Sign signOfKind(Kind kind) {
    switch (kind) {
    case Kind::wrong:
        return Sign::cross;
    case Kind::missed:
        return Sign::open;
    case Kind::split:
        return Sign::warning;
    default:
        return Sign::tick;
    }
}

} // namespace

ResultStaff::ResultStaff() {
    setTitle(words::resultStaffTitle);
    setHelpText(words::resultStaffHelp);
    setTooltip(words::resultStaffHelp);
    setWantsKeyboardFocus(true);
}

void ResultStaff::show(std::shared_ptr<const LoadedTake> shownTake, const CellPlace& shownCell) {
    if (shownTake == take && shownCell == cell)
        return;
    const bool same = take && shownTake && take->model.id == shownTake->model.id && cell == shownCell;
    take = std::move(shownTake);
    cell = shownCell;
    if (!same) {
        chosen = 0;
        isPicked = false;
    }
    layOutStaff();
    if (onChosen)
        onChosen();
}

void ResultStaff::setNames(const PitchNames& wanted) {
    names = wanted;
    layOutStaff();
}

void ResultStaff::showSounding(int noteIndex) {
    if (noteIndex == sounding)
        return;
    sounding = noteIndex;
    repaint();
}

int ResultStaff::chosenNote() const {
    return notes.empty() ? -1 : notes[static_cast<std::size_t>(chosen)].note.index;
}

const NoteModel* ResultStaff::picked() const {
    return isPicked && !notes.empty() ? &notes[static_cast<std::size_t>(chosen)].note : nullptr;
}

void ResultStaff::pick(int note) {
    chosen = note;
    isPicked = true;
    say();
    repaint();
    if (onChosen)
        onChosen();
}

void ResultStaff::layOutStaff() {
    notes.clear();
    staff.reset();
    slowest.reset();
    if (take && !take->trouble) {
        slowest = slowestChange(take->model, cell);
        auto area = getLocalBounds().toFloat().reduced(edge, edge / 2);
        area.removeFromBottom(footRow + fingeringRow * 1.2F + signRow + (slowest ? slowestRow : 0.0F));
        const Spelling spelling = names.sounding ? writtenSpelling(take->logged.instrument) : names.spelling;
        staff = segmentStaff(take->logged.score, take->logged.instrument, take->logged.drill, spelling,
                             cell.rung, cell.segment, area, largestSpace);
    }
    if (staff)
        for (const EngravedHead& head : staff->music.heads) {
            if (head.tiedFrom)
                continue;
            for (const NoteModel& note : take->model.notes)
                if (note.index == head.note)
                    notes.push_back({note, signOf(note), staff->place.x(head.x)});
        }
    chosen = juce::jlimit(0, juce::jmax(0, static_cast<int>(notes.size()) - 1), chosen);
    say();
    repaint();
}

void ResultStaff::say() {
    juce::String all;
    for (const Shown& shown : notes)
        all << toText(words::noteResult(shown.note, names)) << ". ";
    setDescription(all);
    setSaid(notes.empty() ? juce::String()
                          : toText(words::noteResult(notes[static_cast<std::size_t>(chosen)].note, names)));
}

float ResultStaff::room() const {
    float least = 80.0F;
    for (std::size_t i = 1; i < notes.size(); ++i)
        least = std::min(least, notes[i].x - notes[i - 1].x);
    return least;
}

bool ResultStaff::keyPressed(const juce::KeyPress& key) {
    if (notes.empty())
        return false;
    if (key == juce::KeyPress::leftKey || key == juce::KeyPress::rightKey) {
        pick(juce::jlimit(0, static_cast<int>(notes.size()) - 1,
                          chosen + (key == juce::KeyPress::leftKey ? -1 : 1)));
        return true;
    }
    if (key == juce::KeyPress::returnKey && onNote) {
        onNote(chosenNote());
        return true;
    }
    return false;
}

void ResultStaff::mouseDown(const juce::MouseEvent& event) {
    int nearest = -1;
    float away = 40.0F;
    for (int i = 0; i < static_cast<int>(notes.size()); ++i)
        if (const float d = std::abs(notes[static_cast<std::size_t>(i)].x - event.position.x); d < away) {
            away = d;
            nearest = i;
        }
    if (nearest < 0)
        return;
    pick(nearest);
    if (onNote)
        onNote(chosenNote());
}

void ResultStaff::paint(juce::Graphics& g) {
    const Theme& theme = Look::themeOf(*this);
    g.setColour(theme.paper);
    g.fillRoundedRectangle(getLocalBounds().toFloat(), grid::corner);
    if (hasKeyboardFocus(false))
        Look::drawFocus(g, getLocalBounds().toFloat(), theme);
    if (!staff)
        return;
    const float foot = staff->foot;
    for (std::size_t i = 0; i < notes.size(); ++i) {
        const Shown& shown = notes[i];
        const bool here = shown.note.index == sounding ||
                          ((hasKeyboardFocus(false) || isPicked) && static_cast<int>(i) == chosen);
        if (!here)
            continue;
        const float half = std::min(22.0F, room() / 2);
        g.setColour(theme.faintInk);
        g.fillRoundedRectangle(shown.x - half, staff->place.y(-1.0), 2 * half,
                               foot + signRow + fingeringRow - staff->place.y(-1.0), 6.0F);
    }
    paintEngraving(g, staff->music, staff->place, theme.ink, theme.staffLine);
    for (const Shown& shown : notes) {
        if (isFault(shown.sign.kind))
            paintNote(g, staff->music, staff->place, shown.note.index, theme.alarmInk);
        paintSign(g, shown, foot);
        paintFingering(g, shown, foot + signRow);
    }
    paintSlowest(g, foot + signRow + fingeringRow);
    paintFoot(g);
}

void ResultStaff::paintSign(juce::Graphics& g, const Shown& shown, float y) const {
    const Theme& theme = Look::themeOf(*this);
    const juce::Rectangle<float> row(shown.x - 30.0F, y, 60.0F, signRow);
    const Kind kind = shown.sign.kind;
    if (kind != Kind::early && kind != Kind::late) {
        valveladder::paintSign(g, signOfKind(kind), row.withSizeKeepingCentre(signSize, signSize),
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

/// Side by side where that fits, else one under another.
void ResultStaff::paintFingering(juce::Graphics& g, const Shown& shown, float y) const {
    const Theme& theme = Look::themeOf(*this);
    const bool fault = isFault(shown.sign.kind);
    const auto font = fault ? boldFont(grid::caption) : plainFont(grid::caption);
    g.setFont(font);
    g.setColour(fault ? theme.alarmInk : theme.quietInk);
    const juce::String text = toText(shown.note.combination);
    const bool fits = textWidth(font, text) + 4.0F <= room();
    const juce::String shorter = fits ? text : text.removeCharacters("-");
    drawLine(g, shorter, juce::Rectangle<float>(shown.x - 40.0F, y, 80.0F, fingeringRow),
             juce::Justification::centred);
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
    auto row = getLocalBounds().toFloat().reduced(edge, 4.0F).removeFromBottom(footRow);
    const auto font = plainFont(grid::caption);
    std::set<Kind> kinds;
    for (const Shown& shown : notes)
        kinds.insert(shown.sign.kind == Kind::early ? Kind::late : shown.sign.kind);
    for (auto kind = kinds.rbegin(); kind != kinds.rend(); ++kind) {
        const juce::String text = words::signMeaning(*kind);
        const float wide = textWidth(font, text) + 2.0F;
        g.setColour(theme.quietInk);
        g.setFont(font);
        drawLine(g, text, row.removeFromRight(wide), juce::Justification::centredLeft);
        if (*kind == Kind::late)
            row.removeFromRight(16.0F);
        else
            valveladder::paintSign(g, signOfKind(*kind),
                                   row.removeFromRight(24.0F).withSizeKeepingCentre(12.0F, 12.0F),
                                   inkOf(*kind, theme));
        row.removeFromRight(8.0F);
    }
    if (take->model.rungs.empty() || row.getWidth() < 60.0F)
        return;
    const int transposition = notes.empty() ? 0 : notes.front().note.sounding - notes.front().note.written;
    const juce::String where =
        toText(take->model.segmentNames[static_cast<std::size_t>(cell.segment)] + ", " +
               rungName(take->model.rungs[static_cast<std::size_t>(cell.rung)].label, names, transposition));
    g.setColour(theme.quietInk);
    g.setFont(boldFont(grid::caption));
    drawLine(g, where, row, juce::Justification::centredLeft);
}

} // namespace valveladder
