#include "Screen/Window.h"

#include "Screen/SteadySeconds.h"
#include "Screen/Type.h"
#include "View/Words.h"

#include <algorithm>

namespace valveladder {

namespace {

constexpr int playingHz = 60;
constexpr int leastWidthForBoth = 1280; ///< of a place and Messages side by side

/// A program that stands alone, and one that shows the window without saying what it is, have no keys of
/// their own.
bool isHosted(const Processor& plugin) {
    return plugin.wrapperType != juce::AudioProcessor::wrapperType_Standalone &&
           plugin.wrapperType != juce::AudioProcessor::wrapperType_Undefined;
}

} // namespace

juce::AudioProcessorEditor* Processor::createEditor() {
    return new Window(*this);
}

Window::Window(Processor& plugin)
    : AudioProcessorEditor(plugin), owner(plugin), inHost(isHosted(plugin)),
      preferences(readPreferences(preferencesPath())),
      look(preferences.dark ? Theme::dark() : Theme::light()), partReader(defaultLogPath()),
      takes(defaultLogPath(), juce::Time::currentTimeMillis()), foot(plugin, inHost),
      part(partReader, inHost), setup(plugin.parameterSet(), inHost), first(plugin, inHost),
      scale(*this, inHost), keyboard(*this), changes(plugin, setup), kept(plugin, setup),
      sound(plugin.playback(), landing, stair) {
    setLookAndFeel(&look);
    setTitle(words::windowTitle);
    buildEdges();
    buildSetup();
    buildPart();
    buildFirst();
    buildLookRound();
    for (juce::Component* each : std::initializer_list<juce::Component*>{
             &rung, &landing, &stair, &part, &setup, &first, &messages.column, &messages.card, &note})
        addChildComponent(each);
    owner.startedWorker();
    adopt(owner.config());
    setWantsKeyboardFocus(true);
    addMouseListener(this, true);
    setResizable(true, true);
    setResizeLimits(WindowSize::leastWidth, WindowSize::leastHeight, 4000, 3000);
    const WindowSize size = scale.roomFor(preferences.scalePercent);
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

void Window::buildEdges() {
    bar.onPlace = [this](Place wanted) { goTo(wanted); };
    bar.onExport = [this] { pictures.choose([this]() -> juce::Component& { return placeComponent(); }); };
    bar.onBackToOwn = [this] { endLookRound(); };
    foot.onRepeat = [this] { repeatRung(); };
    foot.onMessages = [this] {
        messages.column.setVisible(!messages.column.isVisible());
        resized();
    };
    foot.watch(pictures.progress());
    messages.onCard = [this] {
        layOutCard();
        if (const auto view = owner.session().view())
            refreshMessages(*view);
    };
    addAndMakeVisible(bar);
    addAndMakeVisible(foot);
}

void Window::buildSetup() {
    setup.panel().onChange = [this](SessionConfig config) { take(std::move(config)); };
    setup.panel().onDrill = [this](const SessionConfig& config) { takeDrill(config); };
    setup.panel().onProblem = [this](const Problem& problem) { messages.say(problem); };
    setup.panel().onLeft = [this] { grabKeyboardFocus(); };
    setup.panel().onMeasure = [this] {
        if (const auto begun = owner.measureRoundTrip(); !begun)
            messages.say(begun.problem());
    };
    setup.panel().onFirstSteps = [this] { goTo(Place::first); };
    setup.onPreferences = [this](const Preferences& wanted) { prefer(wanted); };
    setup.onUndo = [this] { goBack(false); };
    setup.onRedo = [this] { goBack(true); };
    rung.onDaily = [this] { takeDrill(dailyAgain(changes.shown())); };
    kept.onOpened = [this](const PluginState& state) { replace(state.config, state.parameters); };
    kept.onProblem = [this](const Problem& problem) { messages.say(problem); };
}

void Window::buildFirst() {
    first.onChange = [this](SessionConfig config) { take(std::move(config)); };
    first.onProblem = [this](const Problem& problem) { messages.say(problem); };
    first.onPreferences = [this](const Preferences& wanted) { prefer(wanted); };
    first.onStart = [this] {
        leaveFirst();
        again();
    };
}

void Window::prefer(const Preferences& wanted) {
    const bool scaled = wanted.scalePercent != preferences.scalePercent;
    apply(wanted);
    if (const int given = scale.roomFor(wanted.scalePercent).scalePercent;
        scaled && given < wanted.scalePercent)
        messages.remark(toText(words::scaleGiven(wanted.scalePercent, given)));
    if (auto written = writePreferences(preferencesPath(), wanted); !written)
        messages.say(written.problem());
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
    scale.want(wanted.scalePercent);
    showNames();
    setup.panel().setSpelling(wanted.spelling);
    setup.showPreferences(wanted);
    first.show(wanted);
    foot.nameKeys(!keysAreTheHosts());
    repaint();
}

PitchNames Window::pitchNames() const {
    const SessionConfig& shown = changes.shown();
    return valveladder::pitchNames(preferences.spelling, preferences.soundingNames, shown.drill,
                                   shown.instrument);
}

PitchNames Window::namesOf(const LoadedTake& take) const {
    return valveladder::pitchNames(preferences.spelling, preferences.soundingNames, take.logged.drill,
                                   take.logged.instrument);
}

PitchNames Window::chosenTakeNames() const {
    const auto take = landing.take();
    return take && !take->trouble ? namesOf(*take) : takeNames();
}

PitchNames Window::takeNames() const {
    return valveladder::pitchNames(preferences.spelling, preferences.soundingNames,
                                   takes.instrument(changes.shown()));
}

void Window::showNames() {
    landing.setNames(chosenTakeNames());
    stair.setNames(takeNames());
    bar.showPlayer(takes.player(changes.shown()), takes.instrument(changes.shown()).name);
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
    bar.showPlace(wanted);
    foot.showPlaying(wanted != Place::first);
    if (wanted != Place::first && !lookingRound())
        leaveFirst();
    if (wanted != Place::landing)
        note.close();
    resized();
}

void Window::paint(juce::Graphics& g) {
    g.fillAll(look.theme().ground);
    g.setColour(look.theme().line);
    g.fillRect(0, WindowBar::height, getWidth(), 1);
    g.fillRect(0, getHeight() - WindowFoot::height - 1, getWidth(), 1);
}

void Window::resized() {
    auto area = getLocalBounds();
    bar.setBounds(area.removeFromTop(WindowBar::height));
    area.removeFromTop(grid::unit + 1);
    foot.setBounds(area.removeFromBottom(WindowFoot::height));
    area.removeFromBottom(1);
    const auto whole = area;
    // Beside the place where there is room for both, else in its stead.
    const bool besides = getWidth() >= leastWidthForBoth;
    placeComponent().setVisible(!messages.column.isVisible() || besides);
    if (messages.column.isVisible()) {
        const int width = besides ? juce::jmin(380, area.getWidth() / 3) : area.getWidth();
        messages.column.setBounds(area.removeFromRight(width).reduced(grid::gutter, grid::unit));
    }
    placeComponent().setBounds(area.isEmpty() ? whole : area);
    layOutCard();
    layOutNote();
}

/// In the middle of the place.
void Window::layOutNote() {
    const auto area = getLocalBounds().withTop(bar.getBottom()).withBottom(foot.getY());
    note.setBounds(area.withSizeKeepingCentre(
        juce::jmin(NoteSheet::widest, area.getWidth() - 2 * grid::margin), NoteSheet::height));
}

/// Over the place's foot.
void Window::layOutCard() {
    Card& card = messages.card;
    if (!card.isVisible())
        return;
    const int width = Card::widthIn(getWidth());
    const int most = foot.getY() - bar.getBottom() - grid::unit - 1;
    const int height = juce::jmin(card.heightFor(width), most);
    card.setBounds((getWidth() - width) / 2, foot.getY() - 1 - grid::unit - height, width, height);
}

void Window::refresh() {
    const auto view = owner.session().view();
    if (view == nullptr)
        return;
    followClock();
    if (current == Place::rung)
        rung.show(playNow(*view), {preferences.reducedMotion, pitchNames()});
    if (current == Place::part) {
        part.refresh();
        part.showDrill(playNow(*view), pitchNames());
    }
    refreshInput();
    refreshLookRound(*view);
    refreshTakes(*view);
    landing.showPlanned(takes.plannedBpm(*view));
    foot.nameKeys(!keysAreTheHosts());
    messages.tellTrouble(*view);
    refreshMessages(*view);
    setup.panel().showLeftOpen(withPitchNames(view->setup->leftOpen, pitchNames()));
    sound.refresh(current, takeNames());
    foot.refreshWork();
    tellWritten();
    learn();
    scale.fitIntoHost();
    keyboard.keep();
    // The log's rules, or a host that loads a state, change the configuration behind the window.
    if (const SessionConfig& config = view->setup->config; config != changes.shown())
        adopt(config);
}

/// Where our own clock begins to run, by whatever was pressed, what is to be played comes to be seen. In
/// hosts the page is the player's alone.
void Window::followClock() {
    const bool runs = ownClockRuns();
    if (runs && !clockRan)
        messages.putHintAway();
    if (runs && !clockRan && !inHost) {
        if (getWidth() < leastWidthForBoth)
            messages.column.setVisible(false);
        goTo(Place::rung);
    }
    clockRan = runs;
}

ClockReading Window::clockNow() const {
    const ClockView& clock = owner.clock();
    ClockReading reading;
    reading.playing = clock.playing.load();
    reading.startPpq = clock.startPpq.load();
    reading.ppq = clock.ppq.load();
    return reading;
}

PlayModel Window::playNow(const SessionView& view) {
    const ClockView& clock = owner.clock();
    ClockReading reading = clockNow();
    if (reading.playing)
        reading.ppq = smooth.at(reading.ppq, clock.bpm.load(), steadySeconds());
    else
        smooth.forget();
    return playModel(view, reading, owner.parameterSet().repeat->get(), inputSeen(), surroundings());
}

InputSeen Window::inputSeen() const {
    if (owner.inputHeard())
        return InputSeen::something;
    const auto view = owner.session().view();
    if (!view || hardlyBegun(view->setup->score(), clockNow(), owner.parameterSet().repeat->get()))
        return InputSeen::unknown;
    return preferences.heardBy == HeardBy::nothing ? InputSeen::unknown : InputSeen::nothing;
}

void Window::refreshTakes(const SessionView& view) {
    if (takes.takeUp(owner.session().review(), view.setup->config.instrument))
        part.logChanged();
    if (const auto shown = takes.overview()) {
        landing.show(shown);
        stair.show(shown);
        loadTakes();
    }
    if (takes.own())
        setup.panel().showPlayers(takes.own()->players);
    // What is due waits until it can be shown; in Take it is there to be looked at.
    const bool canShow = current == Place::rung || current == Place::landing;
    if (canShow && !ownClockRuns() && takes.resultDue(view, preferences.openResult)) {
        landing.showNewest();
        goTo(Place::landing);
    }
}

/// The takes that the places have chosen.
void Window::loadTakes() {
    if (const std::string id = landing.chosenTake(); !id.empty())
        if (auto loaded = takes.take(id)) {
            landing.showTake(std::move(loaded));
            landing.setNames(chosenTakeNames());
        }
    if (current != Place::stair)
        return;
    stair.showTake(landing.take());
    if (!stair.sidesShown())
        return;
    for (const std::string& id : stair.sides().wanted())
        if (const auto loaded = takes.take(id))
            stair.sides().give(loaded, id);
    if (const auto pair = stair.sides().pair())
        stair.sides().setNames(namesOf(*pair->second));
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
        foot.showInput(owner.hearInput(false).peak);
}

void Window::refreshMessages(const SessionView& view) {
    messages.refresh(view, inputSeen(), surroundings(), part.part(), pitchNames());
    foot.showMessage(lookingRound() ? juce::String(words::lookingRound)
                                    : messages.newest(view, pitchNames()));
}

/// What became of a picture that was written.
void Window::tellWritten() {
    const auto written = pictures.finished();
    if (!written || *written)
        return;
    if (written->problem().kind == Problem::Kind::stopped)
        messages.remark(words::exportStopped);
    else
        messages.say(written->problem());
}

void Window::learn() {
    const Processor::Pressed pressed = owner.lastPressed();
    if (pressed.count != pressesSeen && pressed.count != 0)
        setup.panel().heard(pressed.isController, pressed.number);
    pressesSeen = pressed.count;
}

} // namespace valveladder
