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

constexpr float largestSpace = 30.0F;
constexpr float leastStaff = 48.0F; ///< px: before it is lower, legend and slowest change give way
constexpr float leastGap = 4.0F;    ///< px from one fingering to the next
constexpr float underFingerings = 4.0F;

juce::StringArray nameOf(const NoteModel& note) {
    return {toText(note.combination)};
}

juce::StringArray figuresOf(const NoteModel& note) {
    return juce::StringArray::fromTokens(toText(note.combination), "-", "");
}

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

/// Where a fingering has no room beside its neighbour, all stand figure under figure.
void ResultStaff::layOutStaff() {
    showNotes();
    showLegend();
    figureLines = 0;
    placeNotes();
    if (fingeringsTouch()) {
        for (const Shown& shown : notes)
            figureLines = std::max(figureLines, figuresOf(shown.note).size());
        placeNotes();
    }
    chosen = juce::jlimit(0, juce::jmax(0, static_cast<int>(notes.size()) - 1), chosen);
    say();
    repaint();
}

void ResultStaff::placeNotes() {
    staff.reset();
    slowest.reset();
    if (take && !take->trouble) {
        slowest = slowestChange(take->model, cell);
        legendShown = true;
        if (staffArea().getHeight() < leastStaff)
            legendShown = false;
        if (staffArea().getHeight() < leastStaff)
            slowest.reset();
        const auto area = staffArea();
        const LoggedScore& logged = take->logged;
        const Spelling spelling =
            names.sounding ? writtenSpelling(logged.drill, logged.instrument) : names.spelling;
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
}

std::vector<ResultStaff::Fingering> ResultStaff::fingerings() const {
    std::vector<Fingering> all;
    if (!staff)
        return all;
    const bool stacked = figureLines > 0;
    const float high = stacked ? figureRow : fingeringRow;
    for (const Shown& shown : notes) {
        const bool fault = isFault(shown.sign.kind);
        float y = staff->foot + signRow;
        for (const juce::String& text : stacked ? figuresOf(shown.note) : nameOf(shown.note)) {
            const float wide = textWidth(fingeringFont(fault), text);
            all.push_back({text, {shown.x - wide / 2, y, wide, high}, fault});
            y += high;
        }
    }
    return all;
}

bool ResultStaff::fingeringsTouch() const {
    const auto all = fingerings();
    return std::ranges::adjacent_find(all, [](const Fingering& one, const Fingering& next) {
               return next.area.getX() - one.area.getRight() < leastGap;
           }) != all.end();
}

float ResultStaff::fingeringHeight() const {
    return figureLines == 0 ? fingeringRow : figureRow * static_cast<float>(figureLines);
}

juce::Rectangle<float> ResultStaff::staffArea() const {
    auto area = getLocalBounds().toFloat().reduced(edge, edge / 2);
    if (has(NoteAside::breath))
        area.removeFromTop(breathRow);
    area.removeFromBottom(footArea().getHeight() + fingeringHeight() + underFingerings + signRow +
                          asideHeight() + (slowest ? slowestRow : 0.0F));
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
    return toText(take->model.segmentNames[static_cast<std::size_t>(cell.segment)] + ", " +
                  withPitchNames(take->model.rungs[static_cast<std::size_t>(cell.rung)].label, names));
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
