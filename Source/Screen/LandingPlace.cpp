#include "Screen/LandingPlace.h"

#include "Screen/Look.h"
#include "Screen/Type.h"
#include "View/Words.h"

#include <cmath>

namespace valveladder {

namespace {

int firstNoteOf(const TakeModel& take, int rung, int segment) {
    for (const NoteModel& note : take.notes)
        if (note.rung == rung && note.segment == segment)
            return note.index;
    return -1;
}

} // namespace

LandingPlace::LandingPlace() : found(words::findingsTitle), next(words::nextTitle) {
    setTitle(words::landingPlaceSaid);
    setFocusContainerType(FocusContainerType::focusContainer);
    setOpaque(true);
    load.setButtonText(words::loadNext);
    load.setTitle(words::loadNextSaid);
    load.onClick = [this] {
        if (shownOverview && shownOverview->next && onNext)
            onNext(*shownOverview->next);
    };
    takes.onNoteWanted = [this](const TakeSummary& take) {
        if (onNoteWanted)
            onNoteWanted(take);
    };
    ladder.onChoice = [this] { rungChosen(); };
    graphs.onPlay = [this](int note) {
        if (onPlay)
            onPlay(note);
    };
    strip.onPlay = [this] { graphs.playChosen(); };
    card.onAction = [this] {
        if (shownOverview && !shownOverview->others.empty() && onOther)
            onOther(shownOverview->others.front());
    };
    for (juce::Component* part : std::initializer_list<juce::Component*>{&takes, &ladder, &graphs, &found,
                                                                         &next, &load, &strip, &card})
        addChildComponent(part);
    show(nullptr);
}

std::string LandingPlace::chosenTake() const {
    const TakeSummary* take = takes.chosen();
    return take == nullptr ? "" : take->header.id;
}

void LandingPlace::setNames(const PitchNames& names) {
    ladder.setNames(names);
    graphs.setNames(names);
}

void LandingPlace::showSounding(int noteIndex) {
    graphs.showSounding(noteIndex);
}

void LandingPlace::show(const std::shared_ptr<const Overview>& overview) {
    if (overview && overview == shownOverview)
        return;
    shownOverview = overview;
    const auto why = whyEmpty(overview.get(), words::noTakesTitle, words::noTakesWords);
    for (juce::Component* part : getChildren())
        part->setVisible(!why == (part != &card));
    if (why) {
        card.show(*why);
        layOutCard();
    } else {
        takes.show(overview->takes);
        found.show(overview->stair.claims, words::nothingFound);
        std::vector<std::string> plan;
        if (overview->next && !overview->next->items.empty()) {
            plan = linesOf(*overview->next);
            plan.insert(plan.begin(), words::nextHeading(*overview->next));
        }
        next.show(plan, words::noNext);
        load.setEnabled(overview->next && !overview->next->items.empty());
    }
    say();
    repaint();
}

void LandingPlace::showTake(std::shared_ptr<const LoadedTake> take) {
    if (take == shownTake)
        return;
    shownTake = std::move(take);
    if (shownTake)
        ladder.show(shownTake->model);
    rungChosen();
    say();
    repaint(heading);
}

juce::String LandingPlace::title() const {
    if (!shownTake)
        return {};
    return shownTake->trouble ? juce::String(words::unreadableTake) : toText(shownTake->model.heading);
}

juce::String LandingPlace::detail() const {
    if (!shownTake)
        return {};
    return toText(shownTake->trouble ? shownTake->trouble->text() : shownTake->model.detail);
}

void LandingPlace::rungChosen() {
    const TakeModel* model = shownTake ? &shownTake->model : nullptr;
    const int rung = ladder.chosenRung();
    const int segment = ladder.chosenSegment();
    graphs.show(model, nullptr, rung, segment, model == nullptr ? -1 : firstNoteOf(*model, rung, segment));
}

void LandingPlace::paint(juce::Graphics& g) {
    const Theme& theme = Look::themeOf(*this);
    g.fillAll(theme.ground);
    if (!shownTake || card.isVisible())
        return;
    auto area = heading;
    g.setColour(theme.text);
    g.setFont(boldFont(grid::title));
    g.drawFittedText(title(), area.removeFromTop(34), juce::Justification::centredLeft, 1, 0.8F);
    g.setColour(theme.quiet);
    g.setFont(plainFont(grid::body));
    g.drawFittedText(detail(), area, juce::Justification::topLeft, 2, 0.8F);
}

void LandingPlace::layOutCard() {
    const int width = juce::jmin(Card::widest, getWidth() - 2 * grid::margin);
    card.setBounds(getLocalBounds().withSizeKeepingCentre(width, card.heightFor(width)));
}

void LandingPlace::resized() {
    layOutCard();
    auto area = getLocalBounds().reduced(grid::margin, 0).withTrimmedBottom(grid::unit);
    const int side = juce::jlimit(190, 300, getWidth() * 22 / 100);
    auto left = area.removeFromLeft(side);
    strip.setBounds(left.removeFromBottom(PlayStrip::height));
    left.removeFromBottom(grid::unit);
    takes.setBounds(left);
    area.removeFromLeft(grid::margin);
    auto right = area.removeFromRight(side);
    area.removeFromRight(grid::margin);
    load.setBounds(right.removeFromBottom(grid::control));
    right.removeFromBottom(grid::unit);
    found.setBounds(right.removeFromTop(right.getHeight() * 55 / 100));
    right.removeFromTop(grid::gutter);
    next.setBounds(right);
    heading = area.removeFromTop(60);
    ladder.setBounds(area.removeFromTop(juce::jlimit(148, 210, area.getHeight() * 34 / 100)));
    area.removeFromTop(grid::gutter);
    graphs.setBounds(area);
}

} // namespace valveladder
