#include "Screen/FirstPlace.h"

#include "Screen/Look.h"
#include "Screen/Type.h"
#include "Screen/Wrap.h"
#include "Tempo/TempoMap.h"
#include "View/Words.h"

#include <cmath>

namespace valveladder {

namespace {

constexpr int headingHeight = 40;
constexpr int leastRowGap = 6;
constexpr int labelWidth = 112;
constexpr int titleHeight = 76;
// Steps are as wide as their rows ask for; what a larger window has more goes to the sheet, and the whole is
// never so large that the eye has to wander.
constexpr int stepsWidth = 720;
constexpr int widest = 1760;
constexpr int highest = 1000;
constexpr int mostAir = 72;
constexpr int startHeight = 120;
constexpr int largeStartHeight = 152;
constexpr int largeSide = 640; ///< from this height on Start is larger
constexpr int numberWidth = 104;
constexpr int heardWidth = 240;        ///< of "I hear sol#3 (sounds fa#3)"
constexpr double quietClickDb = -24.0; ///< by loudspeaker: low enough to lie under a horn; our choice
constexpr double usualClickDb = OwnSoundSettings::usualDb;

/// Everything but the pitches stays when another instrument is chosen.
SessionConfig playedOn(const Instrument& instrument, SessionConfig config) {
    const Drill fresh = defaultDrill(instrument);
    config.instrument = instrument;
    config.drill.pattern = fresh.pattern;
    config.drill.fingering = fresh.fingering;
    return config;
}

std::vector<juce::String> textsOf(const std::vector<std::string>& all) {
    std::vector<juce::String> texts;
    for (const std::string& each : all)
        texts.push_back(toText(each));
    return texts;
}

} // namespace

FirstPlace::FirstPlace(Processor& plugin, bool hosted)
    : owner(plugin), inHost(hosted), hearing(words::heardByField), listening(words::listenByField),
      midi(words::midiInputField) {
    setTitle(words::firstPlaceSaid);
    setFocusContainerType(FocusContainerType::focusContainer);
    setOpaque(true);
    scroll.setViewedComponent(&steps, false);
    scroll.setScrollBarsShown(true, false);
    scroll.setWantsKeyboardFocus(false);
    addAndMakeVisible(scroll);
    buildInstrument();
    buildHearing();
    buildTempo();
    start.setButtonText(inHost ? words::goOnKey : words::startKey);
    start.setTitle(inHost ? words::goOn : words::startWord);
    start.setTooltip(inHost ? words::goOnHelp : words::startHelp);
    start.setToggleable(true);
    start.setToggleState(true, juce::dontSendNotification);
    start.setWantsKeyboardFocus(true);
    start.onClick = [this] {
        if (onStart)
            onStart();
    };
    lookRound.setButtonText(words::lookRoundHere);
    lookRound.setTitle(words::lookRoundHere);
    lookRound.setTooltip(words::lookRoundHelp);
    lookRound.setWantsKeyboardFocus(true);
    lookRound.onClick = [this] {
        if (onLookRound)
            onLookRound();
    };
    for (juce::Component* each : std::initializer_list<juce::Component*>{&sheet, &lookRound, &start})
        addAndMakeVisible(each);
}

void FirstPlace::buildInstrument() {
    for (std::size_t facet = 0; facet < facetCount; ++facet) {
        facets[facet] = std::make_unique<Chips>(words::facetFields[facet]);
        facets[facet]->onChoice = [this, facet](int index) { instrumentNarrowed(facet, index); };
        steps.addAndMakeVisible(*facets[facet]);
    }
}

void FirstPlace::buildHearing() {
    hearing.onChoice = [this](int index) { heardBy(index); };
    listening.onChoice = [this](int index) {
        Preferences wanted = preferences;
        wanted.loudspeaker = index == 1;
        *owner.parameterSet().clickLevel =
            static_cast<float>(wanted.loudspeaker ? quietClickDb : usualClickDb);
        if (onPreferences)
            onPreferences(wanted);
    };
    midi.onChoice = [this](int index) {
        if (devices() == nullptr || index >= static_cast<int>(midiShown.size()))
            return;
        devices()->listenToMidi(index, !midiShown[static_cast<std::size_t>(index)].on);
        fillDevices();
    };
    const std::initializer_list<std::tuple<ChoiceBox*, juce::Label*, const char*, const char*>> boxes{
        {&system, &systemLabel, words::soundSystemField, words::soundSystemHelp},
        {&output, &outputLabel, words::outputField, words::outputHelp},
        {&input, &inputLabel, words::inputField, words::inputHelp},
        {&channel, &channelLabel, words::channelField, words::channelHelp}};
    for (const auto& [box, label, text, help] : boxes) {
        box->setTitle(text);
        box->setTooltip(help);
        box->setWantsKeyboardFocus(true);
        box->setTextWhenNothingSelected(words::noDevice);
        label->setText(text, juce::dontSendNotification);
        label->setAccessible(false);
        label->setBorderSize({});
        steps.addChildComponent(box);
        steps.addChildComponent(label);
    }
    system.onChange = [this] { deviceChosen(devices()->chooseSystem(system.getSelectedItemIndex())); };
    output.onChange = [this] { deviceChosen(devices()->chooseOutput(output.getSelectedItemIndex())); };
    input.onChange = [this] { deviceChosen(devices()->chooseInput(input.getSelectedItemIndex())); };
    channel.onChange = [this] {
        deviceChosen(devices()->chooseInputChannel(channel.getSelectedItemIndex()));
    };
    heardNow.setTitle(words::heardNowTitle);
    Look::makeLead(heardNow);
    heardNow.setMinimumHorizontalScale(1.0F);
    heardNow.setBorderSize({});
    for (juce::Component* each :
         std::initializer_list<juce::Component*>{&hearing, &listening, &level, &heardNow, &midi})
        steps.addChildComponent(each);
}

void FirstPlace::buildTempo() {
    slower.setButtonText(juce::String::fromUTF8("\xe2\x88\x92"));
    slower.setTitle(words::slower);
    quicker.setButtonText("+");
    quicker.setTitle(words::quicker);
    tap.setButtonText(words::tapButton);
    tap.setTitle(words::tapField);
    tap.setTooltip(words::tapHelp);
    slower.setTooltip(words::slowerHelp);
    quicker.setTooltip(words::quickerHelp);
    slower.onClick = [this] { setTempo(config.rules.startBpm - 1.0); };
    quicker.onClick = [this] { setTempo(config.rules.startBpm + 1.0); };
    tap.onClick = [this] {
        if (const auto bpm = tapTempo.tap(juce::Time::getMillisecondCounterHiRes() / 1000.0))
            setTempo(std::round(*bpm));
    };
    for (juce::TextButton* button : {&slower, &quicker, &tap}) {
        button->setWantsKeyboardFocus(true);
        steps.addAndMakeVisible(button);
    }
}

void FirstPlace::setTempo(double bpm) {
    SessionConfig wanted = config;
    wanted.rules.startBpm = juce::jlimit(minBpm, maxBpm, bpm);
    wanted.rules.ceilingBpm = std::max(wanted.rules.ceilingBpm, wanted.rules.startBpm);
    if (onChange)
        onChange(wanted);
}

void FirstPlace::instrumentNarrowed(std::size_t facet, int index) {
    const InstrumentFacets chosen = facetsOf(config.instrument);
    const auto choices = facetChoices(chosen, facet);
    if (index < 0 || index >= static_cast<int>(choices.size()) || !onChange)
        return;
    onChange(playedOn(narrowed(chosen, facet, choices[static_cast<std::size_t>(index)]), config));
}

void FirstPlace::heardBy(int index) {
    Preferences wanted = preferences;
    wanted.heardBy = static_cast<HeardBy>(index);
    if (onPreferences)
        onPreferences(wanted);
}

void FirstPlace::deviceChosen(const Result<Done>& done) {
    if (!done && onProblem)
        onProblem(done.problem());
    fillDevices();
}

void FirstPlace::fillDevices() {
    if (devices() == nullptr)
        return;
    const auto fill = [](juce::ComboBox& box, const SoundDevices::Choice& choice) {
        bool same = box.getNumItems() == static_cast<int>(choice.names.size());
        for (int i = 0; same && i < box.getNumItems(); ++i)
            same = box.getItemText(i) == toText(choice.names[static_cast<std::size_t>(i)]);
        if (!same) {
            box.clear(juce::dontSendNotification);
            int id = 1;
            for (const std::string& name : choice.names)
                box.addItem(toText(name.empty() ? "-" : name), id++);
        }
        box.setSelectedItemIndex(choice.chosen, juce::dontSendNotification);
    };
    fill(system, devices()->systems());
    fill(output, devices()->outputs());
    fill(input, devices()->inputs());
    const bool hadChannels = hasChannels();
    fill(channel, devices()->inputChannels());
    if (hasChannels() != hadChannels)
        resized();
    auto inputs = devices()->midiInputs();
    if (inputs == midiShown)
        return;
    midiShown = std::move(inputs);
    std::vector<juce::String> names;
    for (const auto& each : midiShown)
        names.push_back(toText(each.on ? words::midiListened(each.name) : each.name));
    midi.offer(names, -1, words::midiInputHelp);
    resized();
}

void FirstPlace::show(const SessionConfig& wanted) {
    config = wanted;
    const InstrumentFacets chosen = facetsOf(config.instrument);
    for (std::size_t facet = 0; facet < facetCount; ++facet) {
        const auto choices = facetChoices(chosen, facet);
        const auto at = std::find(choices.begin(), choices.end(), chosen[facet]);
        facets[facet]->offer(textsOf(choices), static_cast<int>(at - choices.begin()),
                             words::facetHelps[facet]);
        facets[facet]->setVisible(choices.size() > 1);
    }
    resized();
    repaint();
}

void FirstPlace::show(const Preferences& wanted) {
    preferences = wanted;
    hearing.offer({words::byMicrophone, words::byMidi, words::notHeard},
                  static_cast<int>(preferences.heardBy), words::heardByHelp);
    listening.offer({words::headphones, words::loudspeaker}, preferences.loudspeaker ? 1 : 0,
                    words::listenByHelp);
    fillDevices();
    resized();
    repaint();
}

void FirstPlace::refresh() {
    fillDevices();
    const InputEar::Heard now = owner.hearInput(true);
    level.show(now.peak);
    const auto pitch = heardPitch(now);
    heardNow.setText(pitch ? toText(words::iHear(*pitch, config.instrument, preferences.spelling))
                           : juce::String(words::playANote),
                     juce::dontSendNotification);
    if (const auto view = owner.session().view())
        sheet.show(view->setup, preferences.spelling);
}

std::optional<double> FirstPlace::heardPitch(const InputEar::Heard& sound) {
    if (const Processor::Pressed pressed = owner.lastPressed(); pressed.count != 0 && !pressed.isController)
        lastMidiNote = pressed.number;
    return byMicrophone() ? sound.midi : lastMidiNote;
}

void FirstPlace::paint(juce::Graphics& g) {
    const Theme& theme = Look::themeOf(*this);
    g.fillAll(theme.ground);
    auto title = titleArea.toFloat();
    g.setColour(theme.text);
    g.setFont(boldFont(grid::figure));
    drawLine(g, words::windowTitle, title.removeFromTop(52.0F), juce::Justification::centredLeft);
    g.setColour(theme.quiet);
    g.setFont(plainFont(grid::lead));
    drawLine(g, words::firstLine, title, juce::Justification::topLeft);
}

void FirstPlace::paintSteps(juce::Graphics& g) const {
    const Theme& theme = Look::themeOf(*this);
    for (std::size_t i = 0; i < headingY.size(); ++i) {
        const auto font = boldFont(grid::title);
        g.setFont(font);
        g.setColour(theme.accentText);
        drawLine(g, juce::String(static_cast<int>(i) + 1),
                 juce::Rectangle<int>(0, headingY[i], 28, headingHeight - 6).toFloat(),
                 juce::Justification::centredLeft);
        g.setColour(theme.text);
        drawLine(g, words::stepTitles[i],
                 juce::Rectangle<int>(28, headingY[i], steps.getWidth() - 28, headingHeight - 6).toFloat(),
                 juce::Justification::centredLeft);
    }
    g.setFont(plainFont(grid::body));
    g.setColour(theme.quiet);
    for (std::size_t facet = 0; facet < facetCount; ++facet)
        if (facets[facet]->isVisible())
            drawLine(g, words::facetFields[facet],
                     juce::Rectangle<int>(28, facetY[facet], labelWidth - 8, grid::control).toFloat(),
                     juce::Justification::centredLeft);
    if (listening.isVisible())
        drawLine(g, words::listenByField,
                 juce::Rectangle<int>(28, listening.getY(), labelWidth - 8, grid::control).toFloat(),
                 juce::Justification::centredLeft);
    if (midi.isVisible())
        drawLine(g, midiShown.empty() ? words::noMidiInput : words::midiInputField,
                 juce::Rectangle<int>(28, midi.getY(),
                                      midiShown.empty() ? steps.getWidth() - 28 : labelWidth - 8,
                                      grid::control)
                     .toFloat(),
                 juce::Justification::centredLeft);
    g.setColour(theme.text);
    g.setFont(boldFont(grid::figure));
    drawLine(g, toText(words::tempoText(config.rules.startBpm)), tempoArea, juce::Justification::centred);
}

int FirstPlace::layOutSteps(int width, int air) {
    int y = 0;
    const int rowGap = leastRowGap + air / 4;
    const int left = 28 + labelWidth;
    const auto chips = [&](Chips& row) {
        const int height = row.heightFor(width - left);
        row.setBounds(left, y, width - left, height);
        y += height + rowGap;
    };
    const auto heading = [&](std::size_t step) {
        headingY[step] = y;
        y += headingHeight;
    };
    heading(0);
    for (std::size_t facet = 0; facet < facetCount; ++facet) {
        facetY[facet] = y;
        if (facets[facet]->isVisible())
            chips(*facets[facet]);
    }
    y += leastRowGap + air;
    heading(1);
    hearing.setBounds(28, y, juce::jmin(width - 28, 380), grid::control);
    level.setBounds(28 + 380, y + 8, juce::jlimit(0, 160, width - 28 - 380 - 8), 24);
    const int besides = 28 + 380 + (byMicrophone() ? 172 : grid::gutter); // the level, if it is shown
    juce::Rectangle<int> heardArea{besides, y, width - besides, grid::control};
    if (heardArea.getWidth() < heardWidth) {
        heardArea = {28, y + grid::control, width - 28, grid::control};
        y += isHeard() ? heardArea.getHeight() : 0;
    }
    heardNow.setBounds(heardArea);
    y += grid::control + rowGap;
    const bool own = devices() != nullptr;
    if (listening.isVisible())
        chips(listening);
    if (midi.isVisible())
        chips(midi);
    if (own)
        y = layOutDevices(width, y) + rowGap;
    y += leastRowGap + air;
    heading(2);
    slower.setBounds(28, y, 48, grid::control);
    tempoArea = {28 + 48, y, numberWidth, grid::control};
    quicker.setBounds(28 + 48 + numberWidth, y, 48, grid::control);
    tap.setBounds(28 + 48 + numberWidth + 48 + grid::gutter, y, 96, grid::control);
    return y + grid::control + grid::unit;
}

/// Beside each other; in two lines, the microphone beside its channel, where there are channels. Returns
/// where they end.
int FirstPlace::layOutDevices(int width, int y) {
    constexpr int labelHeight = 20;
    const std::array<std::pair<ChoiceBox*, juce::Label*>, 4> all{
        {{&system, &systemLabel}, {&output, &outputLabel}, {&input, &inputLabel}, {&channel, &channelLabel}}};
    const int shown = hasChannels() ? 4 : 3;
    const int columns = hasChannels() ? 2 : 3;
    const int wide = (width - 28 - (columns - 1) * grid::unit) / columns;
    for (int i = 0; i < shown; ++i) {
        const int x = 28 + i % columns * (wide + grid::unit);
        const int top = y + i / columns * (labelHeight + grid::control + leastRowGap);
        const auto& [box, label] = all[static_cast<std::size_t>(i)];
        label->setBounds(x + 8, top, wide - 8, labelHeight);
        box->setBounds(x, top + labelHeight, wide, grid::control);
    }
    return all[static_cast<std::size_t>(shown - 1)].first->getBottom();
}

void FirstPlace::resized() {
    const bool own = devices() != nullptr;
    hearing.setVisible(true);
    level.setVisible(byMicrophone());
    heardNow.setVisible(isHeard());
    listening.setVisible(own);
    midi.setVisible(own && preferences.heardBy == HeardBy::midi);
    for (juce::Component* each : std::initializer_list<juce::Component*>{
             &system, &output, &input, &systemLabel, &outputLabel, &inputLabel})
        each->setVisible(own);
    channel.setVisible(hasChannels());
    channelLabel.setVisible(hasChannels());
    auto area = getLocalBounds().reduced(2 * grid::margin, 0).withTrimmedBottom(grid::unit);
    area = area.withSizeKeepingCentre(juce::jmin(area.getWidth(), widest),
                                      juce::jmin(area.getHeight(), highest));
    titleArea = area.removeFromTop(titleHeight);
    const int wanted = stepsWidth + juce::jmax(0, (area.getWidth() - 1184) / 3);
    const int side =
        juce::jmax(juce::jlimit(220, 400, getWidth() * 30 / 100), area.getWidth() - grid::margin - wanted);
    layOutSide(area.removeFromRight(side));
    area.removeFromRight(grid::margin);
    scroll.setBounds(area);
    const int width = area.getWidth() - scroll.getScrollBarThickness();
    const int rows = static_cast<int>(facetCount) + 4;
    const int spare = area.getHeight() - layOutSteps(width, 0);
    const int air = juce::jlimit(0, mostAir, spare * 4 / (rows + 8));
    steps.setSize(width, layOutSteps(width, air));
    steps.repaint();
}

void FirstPlace::layOutSide(juce::Rectangle<int> side) {
    const int high = side.getHeight() < largeSide ? startHeight : largeStartHeight;
    start.setBounds(side.removeFromBottom(high).reduced(0, 4));
    side.removeFromBottom(grid::unit);
    lookRound.setBounds(side.removeFromBottom(grid::control));
    side.removeFromBottom(grid::gutter);
    sheet.setBounds(side);
}

} // namespace valveladder
