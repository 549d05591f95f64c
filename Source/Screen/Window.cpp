#include "Screen/Window.h"

#include "Screen/Type.h"
#include "View/Words.h"

#include <algorithm>

namespace valveladder {

namespace {

constexpr int playingHz = 60;
constexpr int barHeight = 64;
constexpr int footHeight = 60;
constexpr int leastMessageWidth = 220;
constexpr int leastWidthForBoth = 1280; ///< of a place and Messages side by side
constexpr int workWidth = 300;
constexpr int backWidth = 176;

double steadySeconds() {
    return juce::Time::getMillisecondCounterHiRes() / 1000.0;
}

} // namespace

juce::AudioProcessorEditor* Processor::createEditor() {
    return new Window(*this);
}

Window::Window(Processor& plugin)
    : AudioProcessorEditor(plugin), owner(plugin), preferences(readPreferences(preferencesPath())),
      look(preferences.dark ? Theme::dark() : Theme::light()), shelf(shelfFolder()), reader(defaultLogPath()),
      player(plugin.playback(), defaultLogPath().parent_path()), partReader(defaultLogPath()),
      clockAttachment(*plugin.parameterSet().runOwnClock, runClock), part(partReader),
      setup(plugin.parameterSet(), isHosted(plugin)), first(plugin, isHosted(plugin)),
      messages(words::messages) {
    setLookAndFeel(&look);
    setTitle(words::windowTitle);
    buildBar();
    buildSetup();
    buildWork();
    buildSound();
    buildPart();
    buildFirst();
    buildLookRound();
    for (juce::Component* each : std::initializer_list<juce::Component*>{&rung, &landing, &stair, &part,
                                                                         &setup, &first, &messages, &card})
        addChildComponent(each);
    landing.onOther = stair.onOther = [this](const OtherPlayer& other) { goOnAs(other); };
    card.onClose = [this] { putCardAway(); };
    card.onAction = [this] {
        const auto action = std::exchange(cardAction, {});
        putCardAway();
        if (action)
            action();
    };
    owner.startedWorker();
    adopt(owner.config());
    setWantsKeyboardFocus(true);
    addMouseListener(this, true);
    setResizable(true, true);
    setResizeLimits(WindowSize::leastWidth, WindowSize::leastHeight, 4000, 3000);
    const WindowSize size = roomFor(preferences.scalePercent);
    setSize(size.width, size.height);
    apply(preferences);
    goTo(preferences.welcomed ? Place::rung : Place::first);
    startTimerHz(playingHz);
    refresh();
}

Window::~Window() {
    stopTimer();
    setLookAndFeel(nullptr);
}

void Window::buildBar() {
    struct Tab {
        juce::TextButton* button;
        const char *text, *key, *said, *help;
        Place place;
    };
    const std::initializer_list<Tab> places{
        {&rungButton, words::rungPlace, "1", words::rungPlaceSaid, words::rungPlaceHelp, Place::rung},
        {&landingButton, words::landingPlace, "2", words::landingPlaceSaid, words::landingPlaceHelp,
         Place::landing},
        {&stairButton, words::stairPlace, "3", words::stairPlaceSaid, words::stairPlaceHelp, Place::stair},
        {&partButton, words::partPlace, "4", words::partPlaceSaid, words::partPlaceHelp, Place::part},
        {&setupButton, words::setUp, "S", words::setUp, words::setUpHelp, Place::setUp}};
    for (const auto& [button, text, key, said, help, where] : places) {
        button->setButtonText(juce::String(text) + "  " + key);
        button->setTitle(said);
        button->setToggleable(true); // which place is shown is told to screen readers
        button->setTooltip(help);
        Look::makeTab(*button);
        button->onClick = [this, target = where] { goTo(target); };
        addAndMakeVisible(button);
    }
    exportButton.setButtonText(juce::String(words::exportView) + "  E");
    exportButton.setTitle(words::exportTitle);
    exportButton.setTooltip(words::exportHelp);
    Look::makeTab(exportButton);
    exportButton.onClick = [this] { exportPlace(); };
    messagesButton.setButtonText(juce::String(words::messages) + "  M");
    messagesButton.setTitle(words::messages);
    messagesButton.setTooltip(words::messagesHelp);
    messagesButton.onClick = [this] {
        messagesShown = !messagesShown;
        resized();
    };
    runClock.setTitle(isHosted(owner) ? words::runClock : words::startWord);
    runClock.setTooltip(isHosted(owner) ? words::runClockHelp : words::startHelp);
    runClock.setClickingTogglesState(true);
    takeButton.setButtonText(words::takeKey);
    takeButton.setTitle(words::markWord);
    takeButton.setTooltip(words::markHelp);
    takeButton.onClick = [this] { owner.pressTake(); };
    repeatButton.setTitle(words::repeatWord);
    repeatButton.setTooltip(words::repeatHelp);
    repeatButton.onClick = [this] { repeatRung(); };
    whoPlays.setJustificationType(juce::Justification::centredRight);
    whoPlays.setMinimumHorizontalScale(1.0F);
    backToOwn.setToggleable(true);
    backToOwn.setToggleState(true, juce::dontSendNotification); // in brass: what leads back
    backToOwn.setButtonText(words::backToOwnKey);
    backToOwn.setTitle(words::backToOwn);
    backToOwn.setTooltip(words::backToOwnHelp);
    backToOwn.onClick = [this] { endLookRound(); };
    addChildComponent(backToOwn);
    for (juce::Component* each :
         std::initializer_list<juce::Component*>{&exportButton, &runClock, &takeButton, &repeatButton,
                                                 &messagesButton, &whoPlays, &level, &lastMessage})
        addAndMakeVisible(each);
}

void Window::buildSetup() {
    setup.panel().onChange = [this](SessionConfig config) { take(std::move(config)); };
    setup.panel().onDrill = [this](SessionConfig config) { takeDrill(std::move(config)); };
    setup.panel().onProblem = [this](const Problem& problem) { say(problem); };
    setup.panel().onLeft = [this] { grabKeyboardFocus(); };
    setup.panel().onMeasure = [this] {
        if (const auto begun = owner.measureRoundTrip(); !begun)
            say(begun.problem());
    };
    setup.onPreferences = [this](const Preferences& wanted) { prefer(wanted); };
    setup.onUndo = [this] { goBack(false); };
    setup.onRedo = [this] { goBack(true); };
    setup.onKeep = [this](const std::string& name) { keepSetup(name); };
    setup.onLoad = [this](const std::string& name) { loadSetup(shelf.text(name), name); };
    setup.onToFile = [this] { setupFile(true); };
    setup.onFromFile = [this] { setupFile(false); };
    setup.showShelf(shelf.names());
    setup.showUndo(false, false);
}

/// What the display that the window is on has room for; without a display the usual size.
WindowSize Window::roomFor(int percent) const {
    const auto* display = juce::Desktop::getInstance().getDisplays().getDisplayForRect(getScreenBounds());
    if (display == nullptr)
        return {WindowSize::usualWidth, WindowSize::usualHeight, percent};
    return windowSizeFor(display->userArea.getWidth(), display->userArea.getHeight(), percent);
}

void Window::buildFirst() {
    first.onChange = [this](SessionConfig config) { take(std::move(config)); };
    first.onProblem = [this](const Problem& problem) { say(problem); };
    first.onPreferences = [this](const Preferences& wanted) { prefer(wanted); };
    first.onStart = [this] {
        leaveFirst();
        again();
    };
}

void Window::prefer(const Preferences& wanted) {
    apply(wanted);
    if (auto kept = writePreferences(preferencesPath(), wanted); !kept)
        say(kept.problem());
}

/// The first steps are shown until they have been gone, or left for another place.
void Window::leaveFirst() {
    if (preferences.welcomed)
        return;
    preferences.welcomed = true;
    (void)writePreferences(preferencesPath(), preferences); // they are shown again next time, no harm done
}

void Window::apply(const Preferences& wanted) {
    preferences = wanted;
    look.setTheme(wanted.dark ? Theme::dark() : Theme::light());
    sendLookAndFeelChange();
    const WindowSize size = roomFor(wanted.scalePercent);
    if (size.scalePercent != percentInUse) {
        percentInUse = size.scalePercent;
        scaleTaken = size.scalePercent / 100.0;
        setScaleFactor(static_cast<float>(scaleTaken));
    }
    if (getWidth() > size.mostWidth || getHeight() > size.mostHeight)
        setSize(std::min(getWidth(), size.mostWidth), std::min(getHeight(), size.mostHeight));
    showNames();
    setup.panel().setSpelling(wanted.spelling);
    setup.showPreferences(wanted);
    first.show(wanted);
    nameKeys();
    repaint();
}

PitchNames Window::pitchNames() const {
    return valveladder::pitchNames(preferences.spelling, preferences.soundingNames, shownConfig.instrument);
}

PitchNames Window::takeNames() const {
    return valveladder::pitchNames(preferences.spelling, preferences.soundingNames,
                                   lookRound ? LookRound::instrument() : shownConfig.instrument);
}

void Window::showNames() {
    landing.setNames(takeNames());
    stair.setNames(takeNames());
}

/// A button names its key where the key is its own.
void Window::nameKeys() {
    const bool ours = !keysAreTheHosts();
    const bool runs = runClock.getToggleState();
    if (isHosted(owner))
        runClock.setButtonText(ours ? words::runClockKey : words::runClock);
    else
        runClock.setButtonText(runs ? words::stopSpace : words::startSpace);
    repeatButton.setButtonText(ours ? words::repeatKey : words::repeatWord);
}

juce::Component& Window::placeComponent() {
    switch (current) {
    case Place::landing:
        return landing;
    case Place::stair:
        return stair;
    case Place::part:
        return part;
    case Place::setUp:
        return setup;
    case Place::first:
        return first;
    case Place::rung:
        break;
    }
    return rung;
}

void Window::goTo(Place wanted) {
    current = wanted;
    for (juce::Component* each :
         std::initializer_list<juce::Component*>{&rung, &landing, &stair, &part, &setup, &first})
        each->setVisible(each == &placeComponent());
    const std::initializer_list<std::pair<juce::TextButton*, Place>> buttons{{&rungButton, Place::rung},
                                                                             {&landingButton, Place::landing},
                                                                             {&stairButton, Place::stair},
                                                                             {&partButton, Place::part},
                                                                             {&setupButton, Place::setUp}};
    for (const auto& [button, where] : buttons)
        button->setToggleState(where == wanted, juce::dontSendNotification);
    if (wanted != Place::first && !lookRound)
        leaveFirst();
    resized();
}

void Window::paint(juce::Graphics& g) {
    g.fillAll(look.theme().ground);
    g.setColour(look.theme().line);
    g.fillRect(0, barHeight - grid::unit, getWidth(), 1);
    g.fillRect(0, getHeight() - footHeight, getWidth(), 1);
}

void Window::resized() {
    auto area = getLocalBounds();
    auto bar = area.removeFromTop(barHeight).withTrimmedBottom(grid::unit).reduced(grid::margin, 0);
    bar = bar.withSizeKeepingCentre(bar.getWidth(), grid::control);
    for (juce::TextButton* button : {&rungButton, &landingButton, &stairButton, &partButton}) {
        button->setBounds(bar.removeFromLeft(104));
        bar.removeFromLeft(grid::unit);
    }
    exportButton.setBounds(bar.removeFromRight(96));
    bar.removeFromRight(grid::unit);
    setupButton.setBounds(bar.removeFromRight(104));
    if (lookRound)
        backToOwn.setBounds(bar.removeFromRight(backWidth));
    whoPlays.setBounds(bar.withTrimmedRight(grid::unit));
    nameWhoPlays();
    layOutFoot(area.removeFromBottom(footHeight).withTrimmedTop(1).reduced(grid::margin, 0));
    area.removeFromTop(1);
    // Beside the place where there is room for both, else in its stead.
    const bool besides = getWidth() >= leastWidthForBoth;
    messages.setVisible(messagesShown);
    placeComponent().setVisible(!messagesShown || besides);
    if (messagesShown) {
        const int width = besides ? juce::jmin(380, area.getWidth() / 3) : area.getWidth();
        messages.setBounds(area.removeFromRight(width).reduced(grid::gutter, grid::unit));
    }
    if (area.isEmpty())
        area = getLocalBounds().withTrimmedTop(barHeight).withTrimmedBottom(footHeight);
    placeComponent().setBounds(area);
    layOutCard();
}

/// Player and instrument, or the player alone, or nobody: what there is room for.
void Window::nameWhoPlays() {
    const auto room = static_cast<float>(whoPlays.getWidth()) - 12.0F;
    const std::string who = lookRound ? LookRound::player() : shownConfig.player;
    const Instrument& instrument = lookRound ? LookRound::instrument() : shownConfig.instrument;
    const juce::String name = toText(who);
    const juce::String all = toText(words::whoPlays(who, instrument.name));
    const auto fits = [room](const juce::String& text) {
        return textWidth(plainFont(grid::body), text) <= room;
    };
    whoPlays.setText(fits(all) ? all : fits(name) ? name : juce::String(), juce::dontSendNotification);
    whoPlays.setTooltip(toText(words::whoPlaysHelp(who, instrument.name)));
}

void Window::layOutCard() {
    if (!card.isVisible())
        return;
    const int width = juce::jmin(Card::widest, getWidth() - 2 * grid::margin);
    const int height = juce::jmin(card.heightFor(width), getHeight() - barHeight - footHeight);
    card.setBounds((getWidth() - width) / 2, getHeight() - footHeight - grid::unit - height, width, height);
}

/// Words in the foot may take three lines.
void Window::layOutFoot(juce::Rectangle<int> foot) {
    const auto place = [&foot](juce::Component& control, int width, bool left) {
        auto area = left ? foot.removeFromLeft(width) : foot.removeFromRight(width);
        control.setBounds(area.withSizeKeepingCentre(width, grid::control));
        if (left)
            foot.removeFromLeft(grid::unit);
    };
    place(runClock, 156, true);
    place(takeButton, 96, true);
    place(repeatButton, 108, true);
    place(messagesButton, 132, false);
    foot.reduce(grid::unit, 0);
    if (level.isVisible())
        level.setBounds(foot.removeFromLeft(juce::jlimit(60, 120, foot.getWidth() / 5))
                            .withSizeKeepingCentre(juce::jlimit(60, 120, foot.getWidth() / 4), 18));
    foot.removeFromLeft(grid::unit);
    if (work.isVisible())
        work.setBounds(foot.removeFromRight(juce::jmin(workWidth, foot.getWidth() - leastMessageWidth / 2))
                           .withTrimmedLeft(grid::unit));
    lastMessage.setBounds(foot);
}

void Window::refresh() {
    const auto view = owner.session().view();
    if (view == nullptr)
        return;
    if (current == Place::rung)
        refreshPlay(*view);
    if (current == Place::part) {
        part.refresh();
        part.showDrill(playNow(*view), pitchNames());
    }
    refreshInput();
    refreshLookRound(*view);
    refreshLog(*view);
    refreshResult(*view);
    landing.showPlanned(plannedShown(*view));
    nameKeys();
    refreshTrouble(*view);
    refreshMessages(*view);
    setup.panel().showLeftOpen(view->setup->leftOpen);
    refreshSound();
    refreshWork();
    learn();
    fitIntoHost();
    keepKeyboard();
    // The log's rules, or a host that loads a state, change the configuration behind the window.
    if (const SessionConfig& config = view->setup->config; config != shownConfig)
        adopt(config);
}

PlayModel Window::playNow(const SessionView& view) {
    const ClockView& clock = owner.clock();
    ClockReading reading;
    reading.playing = clock.playing.load();
    reading.startPpq = clock.startPpq.load();
    reading.ppq = clock.ppq.load();
    if (reading.playing)
        reading.ppq = smooth.at(reading.ppq, clock.bpm.load(), steadySeconds());
    else
        smooth.forget();
    return playModel(view, reading, owner.parameterSet().repeat->get(), inputSeen());
}

void Window::refreshPlay(const SessionView& view) {
    rung.show(playNow(view), {preferences.reducedMotion, pitchNames()});
}

InputSeen Window::inputSeen() const {
    if (owner.inputHeard())
        return InputSeen::something;
    return preferences.heardBy == HeardBy::nothing ? InputSeen::unknown : InputSeen::nothing;
}

void Window::refreshLog(const SessionView& view) {
    if (auto newest = owner.session().review(); newest && newest != reviewed) {
        reviewed = std::move(newest);
        overview =
            std::make_shared<const Overview>(overviewOf(reviewed->result, view.setup->config.instrument));
        part.logChanged();
    }
    if (overview)
        setup.panel().showPlayers(overview->players);
    if (const auto shown = overviewShown()) {
        landing.show(shown);
        stair.show(shown);
        refreshTakes();
    }
}

void Window::refreshTakes() {
    if (const std::string id = landing.chosenTake(); !id.empty())
        if (auto loaded = takeShown(id))
            landing.showTake(std::move(loaded));
    if (current != Place::stair)
        return;
    stair.showTake(landing.take());
    if (stair.sidesShown())
        for (const std::string& id : stair.sides().wanted())
            if (const auto loaded = takeShown(id))
                stair.sides().give(loaded, id);
}

/// A take that was finished since the window opened shows its result, once nothing is played any more.
void Window::refreshResult(const SessionView& view) {
    if (!overview || overview->takes.empty())
        return;
    const TakeSummary& newest = overview->takes.back();
    if (newest.header.id != resultSeen) {
        resultSeen = newest.header.id;
        resultDue = newest.endedUtc >= openedUtc && preferences.openResult;
    }
    if (!resultDue || view.playing || view.inTake)
        return;
    resultDue = false;
    if (current != Place::rung)
        return;
    landing.showNewest();
    goTo(Place::landing);
}

/// Looks are costly beside a frame: ten a second are enough for the eye.
void Window::refreshInput() {
    constexpr double betweenLooks = 0.1;
    const double now = steadySeconds();
    if (now - inputLookedAt < betweenLooks)
        return;
    inputLookedAt = now;
    if (current == Place::first)
        first.refresh();
    else
        level.show(owner.hearInput(false).peak);
}

void Window::refreshMessages(const SessionView& view) {
    std::vector<std::string> all;
    if (view.logTrouble)
        all.push_back(words::trouble + words::logTroubleWords(view));
    else if (const Notice notice = noticeFor(view, inputSeen()); notice.kind != Notice::Kind::none)
        all.push_back((notice.trouble ? words::trouble : "") + notice.title + ". " + notice.words);
    if (part.part() != nullptr && part.part()->problem)
        all.push_back(words::trouble + part.part()->problem->text());
    for (const ScoreWarning& warning : view.setup->warnings)
        all.push_back(words::mind + warning.text);
    for (const std::string& open : view.setup->leftOpen)
        all.push_back(words::mind + open);
    std::vector<SessionMessage> said(ownMessages.begin(), ownMessages.end());
    said.insert(said.end(), view.messages.begin(), view.messages.end());
    std::stable_sort(said.begin(), said.end(), [](const SessionMessage& a, const SessionMessage& b) {
        return a.utc > b.utc; // the newest first
    });
    for (const SessionMessage& message : said)
        all.push_back(juce::Time(message.utc).formatted("%H:%M:%S  ").toStdString() +
                      (message.trouble ? words::trouble : "") + message.text);
    if (messagesShown)
        messages.show(all, words::noMessages);
    juce::String newest = lookRound ? juce::String(words::lookingRound) : ownMessage;
    if (newest.isEmpty() && !view.messages.empty())
        newest = toText((view.messages.back().trouble ? words::trouble : "") + view.messages.back().text);
    lastMessage.show(newest);
}

void Window::learn() {
    const Processor::Pressed pressed = owner.lastPressed();
    if (pressed.count != pressesSeen && pressed.count != 0)
        setup.panel().heard(pressed.isController, pressed.number);
    pressesSeen = pressed.count;
}

} // namespace valveladder
