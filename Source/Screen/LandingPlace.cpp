#include "Screen/LandingPlace.h"

#include "Screen/Look.h"
#include "Screen/Type.h"
#include "Screen/Wrap.h"
#include "View/Words.h"
#include "Words/NextSessionWords.h"

#include <cmath>

namespace valveladder {

namespace {

constexpr int highestFoot = 172;
constexpr int lowestFoot = 128;
constexpr int bigButton = 48;
constexpr float sentenceGap = 4.0F;

/// In bold letters, whether it is on or not, so that no button moves when one is pressed.
int boldWidth(const juce::TextButton& button) {
    return buttonWidth(button, boldFont(grid::body), grid::gutter);
}

/// Smaller where the sentence has room on one line then; `placeWidth`, `room`: px.
juce::Font sentenceFont(const juce::String& sentence, int placeWidth, float room) {
    const bool narrow = placeWidth < 1100;
    const float largest = narrow ? grid::title + 4.0F : grid::figure - 4.0F;
    const auto fitting = boldFontFitting(sentence, room, largest, grid::lead + 2.0F);
    return narrow || textWidth(fitting, sentence) <= room ? fitting : boldFont(largest);
}

/// The larger letters in which the text fits, if any.
std::optional<juce::Font> fontWithin(const juce::String& text, juce::Rectangle<float> area) {
    for (const float size : {grid::body, grid::caption})
        if (const auto font = plainFont(size); heightOf(text, font, area.getWidth()) <= area.getHeight())
            return font;
    return std::nullopt;
}

} // namespace

LandingPlace::LandingPlace() : found(words::findingsTitle), next(words::nextTitle) {
    setTitle(words::landingPlaceSaid);
    setFocusContainerType(FocusContainerType::focusContainer);
    setOpaque(true);
    buildButtons();
    buildCorrection();
    buildTake();
    card.onAction = [this] {
        if (shownOverview && !shownOverview->others.empty() && onOther)
            onOther(shownOverview->others.front());
    };
    for (juce::Component* part : std::initializer_list<juce::Component*>{
             &ladder, &staff, &fingers, &practise, &again, &details, &correct, &graphs, &takes, &strip,
             &found, &next, &invented, &card})
        addChildComponent(part);
    show(nullptr);
}

void LandingPlace::buildButtons() {
    practise.setTitle(words::practise); // until there is something to name it by
    practise.setTooltip(words::practiseHelp);
    practise.setToggleable(true);
    practise.setToggleState(true, juce::dontSendNotification); // the one in brass
    practise.onClick = [this] {
        if (hasNext() && onNext)
            onNext(*shownOverview->next);
    };
    again.setTooltip(words::againHelp);
    again.onClick = [this] {
        if (onAgain)
            onAgain();
    };
    details.setButtonText(words::detailsKey);
    details.setTitle(words::details);
    details.setTooltip(words::detailsHelp);
    details.setToggleable(true);
    details.onClick = [this] { showDetails(!detailsShown()); };
}

void LandingPlace::buildCorrection() {
    correct.setButtonText(words::correctionKey({}));
    correct.setTitle(correct.getButtonText()); // until a note is chosen
    correct.setTooltip(words::correctHelp);
    correct.onClick = [this] {
        if (offer && onCorrect)
            onCorrect(*offer);
    };
}

/// The take that is read, the list it is chosen from, and its sound.
void LandingPlace::buildTake() {
    takes.onNoteWanted = [this](const TakeSummary& take) {
        if (onNoteWanted)
            onNoteWanted(take);
    };
    ladder.onChoice = [this] { cellChosen(); };
    staff.onNote = graphs.onPlay = [this](int note) {
        if (onPlay)
            onPlay(note);
    };
    staff.onChosen = [this] { tellChosen(); };
    strip.onPlay = [this] {
        if (detailsShown())
            graphs.playChosen();
        else if (onPlay && staff.chosenNote() >= 0)
            onPlay(staff.chosenNote());
    };
}

bool LandingPlace::hasNext() const {
    return shownOverview && shownOverview->next && !shownOverview->next->items.empty();
}

std::string LandingPlace::chosenTake() const {
    const TakeSummary* take = takes.chosen();
    return take == nullptr ? "" : take->header.id;
}

void LandingPlace::setNames(const PitchNames& names) {
    if (names == pitchNames)
        return;
    pitchNames = names;
    ladder.setNames(names);
    staff.setNames(names);
    graphs.setNames(names);
    tellChosen();
    showFound();
    say();
}

void LandingPlace::showSounding(int noteIndex) {
    staff.showSounding(noteIndex);
    graphs.showSounding(noteIndex);
}

void LandingPlace::show(const std::shared_ptr<const Overview>& overview) {
    if (overview && overview == shownOverview)
        return;
    shownOverview = overview;
    if (const auto why = whyEmpty(overview.get(), words::noTakesTitle, words::noTakesWords)) {
        card.show(*why);
        card.setVisible(true);
        takes.show({});
    } else {
        card.setVisible(false);
        takes.show(overview->takes);
        fingers.show(overview->stair);
        showFound();
    }
    chooseParts();
    say();
}

/// What was found and what comes next, with pitches named as the player wants.
void LandingPlace::showFound() {
    if (!shownOverview)
        return;
    found.show(withPitchNames(shownOverview->stair.claims, pitchNames), words::nothingFound);
    std::vector<std::string> plan;
    advice = words::noNext;
    if (hasNext()) {
        const PracticeSession& session = *shownOverview->next;
        plan = withPitchNames(linesOf(session), pitchNames);
        plan.insert(plan.begin(), inWords(session));
        advice = toText(withPitchNames(words::practiceAdvice(session), pitchNames));
    }
    next.show(plan, words::noNext);
}

void LandingPlace::showTake(std::shared_ptr<const LoadedTake> take) {
    if (take == shownTake)
        return;
    const bool same = take && shownTake && !take->trouble && take->model.id == shownTake->model.id;
    const CellPlace cell = ladder.chosen();
    shownTake = std::move(take);
    if (shownTake && !shownTake->trouble) {
        ladder.show(shownTake->model);
        ladder.choose(same ? cell : worstCell(shownTake->model));
    }
    cellChosen();
    chooseParts();
    say();
}

void LandingPlace::tellChosen() {
    const NoteModel* note = staff.isVisible() ? staff.picked() : nullptr;
    told = note != nullptr ? toText(words::noteResult(*note, pitchNames)) + "." : juce::String();
    offer = note != nullptr ? offerFor(*note) : std::nullopt;
    if (offer) {
        correct.setButtonText(words::correctionKey(*offer));
        const juce::String help = toText(words::correctionHelp(*note, *offer, pitchNames));
        correct.setTitle(correct.getButtonText());
        correct.setDescription(help);
        correct.setTooltip(help);
    }
    correct.setVisible(offer.has_value());
    resized();
    repaint();
}

void LandingPlace::showPlanned(double bpm) {
    if (words::sameTempo(bpm, plannedBpm))
        return;
    plannedBpm = bpm;
    nameButtons();
}

void LandingPlace::showDetails(bool wanted) {
    details.setToggleState(wanted, juce::dontSendNotification);
    chooseParts();
    say();
}

void LandingPlace::nameButtons() {
    practise.setVisible(practise.isVisible() && hasNext());
    if (hasNext()) {
        practise.setButtonText(toText(words::practiseThis(*shownOverview->next)));
        practise.setTitle(practise.getButtonText());
    }
    const bool passed = shownTake && !shownTake->trouble && shownTake->record.passed;
    const bool quicker = passed && plannedBpm > shownTake->record.playedBpm &&
                         !words::sameTempo(plannedBpm, shownTake->record.playedBpm);
    again.setButtonText(toText(quicker ? words::nextTempo(plannedBpm) : words::againAt(plannedBpm)));
    again.setTitle(again.getButtonText());
}

void LandingPlace::chooseParts() {
    const bool any = !card.isVisible();
    const bool folded = any && !detailsShown();
    const bool readable = shownTake && !shownTake->trouble;
    for (juce::Component* part : std::initializer_list<juce::Component*>{&details, &again, &strip})
        part->setVisible(any);
    practise.setVisible(any && hasNext());
    ladder.setVisible(any && readable);
    invented.setVisible(any && readable && shownTake->record.header.invented);
    staff.setVisible(folded && readable);
    fingers.setVisible(folded && !fingers.empty());
    for (juce::Component* part : std::initializer_list<juce::Component*>{&takes, &graphs, &found, &next})
        part->setVisible(any && detailsShown());
    nameButtons();
    tellChosen();
}

void LandingPlace::say() {
    sentence = {};
    behind = {};
    if (shownTake && !card.isVisible()) {
        if (shownTake->trouble) {
            sentence = words::unreadableTake;
            behind = toText(shownTake->trouble->text());
        } else {
            const ResultWords result = resultWords(
                shownTake->model, shownOverview ? shownOverview->stair.claims : std::vector<std::string>{});
            sentence = toText(withPitchNames(result.sentence, pitchNames));
            behind = toText(
                withPitchNames(result.verdict + (detailsShown() ? " " + result.details : ""), pitchNames));
        }
    }
    setDescription(described(sentence, behind));
    resized();
    repaint();
}

void LandingPlace::cellChosen() {
    const TakeModel* model = shownTake ? &shownTake->model : nullptr;
    const CellPlace cell = ladder.chosen();
    int first = -1;
    if (model != nullptr)
        for (auto note = model->notes.rbegin(); note != model->notes.rend(); ++note)
            if (note->rung == cell.rung && note->segment == cell.segment)
                first = note->index;
    graphs.show(model, nullptr, cell.rung, cell.segment, first);
    staff.show(shownTake, cell);
}

void LandingPlace::paint(juce::Graphics& g) {
    const Theme& theme = Look::themeOf(*this);
    g.fillAll(theme.ground);
    if (card.isVisible())
        return;
    g.setColour(theme.text);
    auto area =
        drawWrapped(g, sentence, sentenceFont(sentence, getWidth(), static_cast<float>(heading.getWidth())),
                    heading.toFloat());
    g.setColour(theme.quiet);
    drawWrapped(g, behind, plainFont(grid::body), area.withTrimmedTop(sentenceGap));
    if (!detailsShown())
        paintAdvice(g);
}

/// What was told of the chosen note, then what to practise where there is room left. Nothing is ever cut.
void LandingPlace::paintAdvice(juce::Graphics& g) const {
    const Theme& theme = Look::themeOf(*this);
    auto area = adviceArea.toFloat();
    const auto line = toldArea.toFloat();
    if (const auto font = fontWithin(told, line); font && told.isNotEmpty()) {
        const float high = heightOf(told, *font, line.getWidth());
        const float spare = juce::jmax(0.0F, static_cast<float>(grid::control) - high);
        g.setColour(theme.text);
        drawWrapped(g, told, *font, line.withTrimmedTop(spare / 2));
        area.setTop(line.getY() + high + spare + grid::unit);
    }
    g.setColour(theme.quiet);
    if (const auto font = fontWithin(advice, area))
        drawWrapped(g, advice, *font, area);
}

void LandingPlace::resized() {
    card.centreIn(getLocalBounds());
    auto area =
        getLocalBounds().reduced(grid::margin, 0).withTrimmedTop(grid::unit).withTrimmedBottom(grid::unit);
    auto side = area.removeFromLeft(LadderView::width);
    area.removeFromLeft(grid::margin);
    auto head = area;
    if (invented.isVisible()) {
        invented.setBounds(head.removeFromRight(invented.width()).withHeight(InventedTag::height));
        head.removeFromRight(grid::gutter);
    }
    const auto width = static_cast<float>(head.getWidth());
    const float high = heightOf(sentence, sentenceFont(sentence, getWidth(), width), width) + sentenceGap +
                       heightOf(behind, plainFont(grid::body), width);
    heading = area.removeFromTop(static_cast<int>(std::ceil(high))).withWidth(head.getWidth());
    area.removeFromTop(grid::unit);
    if (detailsShown())
        layOutDetails(area);
    else {
        layOutFoot(area.removeFromBottom(juce::jlimit(lowestFoot, highestFoot, area.getHeight() * 32 / 100)));
        area.removeFromBottom(grid::gutter);
        staff.setBounds(area);
    }
    ladder.setBounds(side);
}

/// Fingers, the buttons with the advice under them, kept sound. A chosen note has a line between: what was
/// told of it, beside the button that says it was not so.
void LandingPlace::layOutFoot(juce::Rectangle<int> foot) {
    const int listWidth = juce::jlimit(200, 260, foot.getWidth() * 26 / 100);
    strip.setBounds(foot.removeFromRight(listWidth).removeFromTop(PlayStrip::height));
    foot.removeFromRight(grid::margin);
    if (fingers.isVisible() && foot.getWidth() > 620) {
        fingers.setBounds(foot.removeFromLeft(fingers.widthFor(foot.getHeight())));
        foot.removeFromLeft(grid::margin);
    } else {
        fingers.setBounds({});
    }
    const std::initializer_list<std::pair<juce::TextButton*, int>> buttons{
        {&practise, bigButton}, {&again, bigButton}, {&details, grid::control}, {&correct, grid::control}};
    int x = foot.getX();
    int y = foot.getY();
    int line = 0; // height of the buttons beside each other
    for (const auto& [button, high] : buttons) {
        if (!button->isVisible())
            continue;
        const int wide = boldWidth(*button);
        const bool onItsLine = button == &correct && y == foot.getY();
        if (x > foot.getX() && (onItsLine || x + wide > foot.getRight())) {
            x = foot.getX();
            y += line + grid::unit;
            line = 0;
        }
        button->setBounds(x, y, wide, high);
        x += wide + grid::unit;
        line = juce::jmax(line, high);
    }
    adviceArea = foot.withTop(y + line + grid::unit);
    const bool below = y == foot.getY(); // no line has been begun for the chosen note
    toldArea = below ? adviceArea : foot.withTop(y).withLeft(x + grid::unit);
}

void LandingPlace::layOutDetails(juce::Rectangle<int> area) {
    auto right = area.removeFromRight(juce::jlimit(220, 320, getWidth() * 25 / 100));
    area.removeFromRight(grid::margin);
    int wide = -grid::unit;
    for (const juce::TextButton* button : {&practise, &again, &details})
        wide += button->isVisible() ? boldWidth(*button) + grid::unit : 0;
    const bool oneLine = wide <= area.getWidth();
    auto row = area.removeFromBottom(oneLine ? grid::control : 2 * grid::control + grid::unit);
    auto lower = row.removeFromBottom(grid::control);
    if (oneLine)
        row = lower;
    for (juce::TextButton* button : {&practise, &again, &details}) {
        auto& line = button == &details && !oneLine ? lower : row;
        if (!button->isVisible())
            continue;
        button->setBounds(line.removeFromLeft(boldWidth(*button)).withHeight(grid::control));
        line.removeFromLeft(grid::unit);
    }
    area.removeFromBottom(grid::unit);
    graphs.setBounds(area);
    strip.setBounds(right.removeFromBottom(PlayStrip::height));
    right.removeFromBottom(grid::unit);
    layOutLists(right);
}

/// Findings and plan have room for whole sentences, takes have the rest.
void LandingPlace::layOutLists(juce::Rectangle<int> area) {
    const int width = area.getWidth();
    int most = area.getHeight() * 60 / 100 - grid::gutter;
    int foundHigh = found.heightWithin(width, most);
    if (foundHigh == 0) { // all but one take's room
        most = area.getHeight() - TakeList::leastHeight - grid::gutter;
        foundHigh = found.heightWithin(width, most);
    }
    if (foundHigh == 0)
        foundHigh = most;
    const int nextHigh = next.heightWithin(width, most - foundHigh - grid::unit);
    next.setVisible(nextHigh > 0); // else it is on its button alone
    if (next.isVisible()) {
        next.setBounds(area.removeFromBottom(nextHigh));
        area.removeFromBottom(grid::unit);
    }
    found.setBounds(area.removeFromBottom(foundHigh));
    area.removeFromBottom(grid::gutter);
    takes.setBounds(area);
}

} // namespace valveladder
