#include "Screen/ResultStaff.h"

#include "Screen/Look.h"
#include "Screen/ResultSigns.h"
#include "Screen/Type.h"
#include "View/Words.h"

#include <algorithm>
#include <cmath>
#include <set>

namespace valveladder {

namespace {

using Kind = NoteSign::Kind;

constexpr float largestSpace = 17.0F;
constexpr float leastStaff = 48.0F; ///< px: before it is lower, legend and slowest change give way

} // namespace

ResultStaff::ResultStaff() {
    setTitle(words::resultStaffTitle);
    setHelpText(words::resultStaffHelp);
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
    staff.reset();
    slowest.reset();
    showNotes();
    showLegend();
    if (take && !take->trouble) {
        slowest = slowestChange(take->model, cell);
        legendShown = true;
        if (staffArea().getHeight() < leastStaff)
            legendShown = false;
        if (staffArea().getHeight() < leastStaff)
            slowest.reset();
        const auto area = staffArea();
        const Spelling spelling = names.sounding ? writtenSpelling(take->logged.instrument) : names.spelling;
        staff = segmentStaff(take->logged.score, take->logged.instrument, take->logged.drill, spelling,
                             cell.rung, cell.segment, area, largestSpace);
    }
    if (staff)
        for (const EngravedHead& head : staff->music.heads)
            for (Shown& shown : notes)
                if (shown.note.index == head.note && !head.tiedFrom)
                    shown.x = staff->place.x(head.x);
    std::erase_if(notes, [](const Shown& shown) { return shown.x == 0.0F; });
    const float before = room() / 2; // the first note
    for (std::size_t i = 0; i < notes.size(); ++i)
        notes[i].into = i == 0 ? notes[i].x - before : (notes[i - 1].x + notes[i].x) / 2;
    chosen = juce::jlimit(0, juce::jmax(0, static_cast<int>(notes.size()) - 1), chosen);
    say();
    repaint();
}

juce::Rectangle<float> ResultStaff::staffArea() const {
    auto area = getLocalBounds().toFloat().reduced(edge, edge / 2);
    if (has(NoteAside::breath))
        area.removeFromTop(breathRow);
    area.removeFromBottom(footArea().getHeight() + fingeringRow * 1.2F + signRow + asideHeight() +
                          (slowest ? slowestRow : 0.0F));
    return area;
}

/// The notes of the cell, still without their places.
void ResultStaff::showNotes() {
    notes.clear();
    if (!take || take->trouble)
        return;
    for (const NoteModel& note : take->model.notes)
        if (note.rung == cell.rung && note.segment == cell.segment)
            notes.push_back({note, signOf(note), asidesOf(note)});
}

void ResultStaff::showLegend() {
    const Theme& theme = Look::themeOf(*this);
    std::set<Kind> kinds;
    std::set<NoteAside> asides;
    for (const Shown& shown : notes) {
        kinds.insert(shown.sign.kind == Kind::early ? Kind::late : shown.sign.kind);
        asides.insert(shown.asides.begin(), shown.asides.end());
    }
    std::vector<SignMeaning> meanings;
    for (const Kind kind : kinds) {
        const auto sign = kind == Kind::late ? std::nullopt : std::optional(signOf(kind));
        meanings.push_back({sign, inkOf(kind, theme), words::signMeaning(kind)});
    }
    for (const NoteAside aside : asides)
        meanings.push_back({signOf(aside), theme.alarmInk, words::signMeaning(aside)});
    legend.show(std::move(meanings));
}

bool ResultStaff::has(NoteAside aside) const {
    return std::ranges::any_of(notes, [aside](const Shown& shown) {
        return std::ranges::find(shown.asides, aside) != shown.asides.end();
    });
}

float ResultStaff::asideHeight() const {
    const bool any = has(NoteAside::extra) || has(NoteAside::valves) || has(NoteAside::lateFinger);
    return any ? asideRow : 0.0F;
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

int ResultStaff::noteAt(float x) const {
    int nearest = -1;
    float away = 40.0F;
    for (int i = 0; i < static_cast<int>(notes.size()); ++i)
        if (const float d = std::abs(notes[static_cast<std::size_t>(i)].x - x); d < away) {
            away = d;
            nearest = i;
        }
    return nearest;
}

void ResultStaff::mouseDown(const juce::MouseEvent& event) {
    const int nearest = noteAt(event.position.x);
    if (nearest < 0)
        return;
    pick(nearest);
    if (onNote)
        onNote(chosenNote());
}

/// The note under the pointer tells itself.
void ResultStaff::mouseMove(const juce::MouseEvent& event) {
    pointed = event.position.x;
}

void ResultStaff::mouseExit(const juce::MouseEvent& /*event*/) {
    pointed.reset();
}

juce::String ResultStaff::getTooltip() {
    const int nearest = pointed ? noteAt(*pointed) : -1;
    return nearest < 0 ? juce::String(words::resultStaffHelp)
                       : toText(words::noteResult(notes[static_cast<std::size_t>(nearest)].note, names));
}

juce::String ResultStaff::where() const {
    if (!take || take->model.rungs.empty())
        return {};
    const int transposition = notes.empty() ? 0 : notes.front().note.sounding - notes.front().note.written;
    return toText(
        take->model.segmentNames[static_cast<std::size_t>(cell.segment)] + ", " +
        rungName(take->model.rungs[static_cast<std::size_t>(cell.rung)].label, names, transposition));
}

juce::Rectangle<float> ResultStaff::footArea() const {
    auto area = getLocalBounds().toFloat().reduced(edge, 4.0F);
    const float high = legendShown ? legend.heightFor(legendArea().getWidth()) : 0.0F;
    return area.removeFromBottom(std::max(high, SignLegend::lineHeight) + 4.0F);
}

juce::Rectangle<float> ResultStaff::legendArea() const {
    return getLocalBounds()
        .toFloat()
        .reduced(edge, 4.0F)
        .withTrimmedLeft(textWidth(boldFont(grid::caption), where()) + 2 * edge);
}

} // namespace valveladder
