#include "Screen/FirstPlace.h"

#include "Screen/Look.h"
#include "Screen/SteadySeconds.h"
#include "Screen/Type.h"
#include "Screen/Wrap.h"
#include "Tempo/TempoMap.h"
#include "View/Words.h"

#include <cmath>

namespace valveladder {

namespace {

constexpr int indent = 28; ///< of what stands under a step's number
constexpr int headingHeight = 40;
constexpr int tightHeading = 34;
constexpr int leastRowGap = 6;
constexpr int tightRowGap = 4;
constexpr int labelWidth = 112;
constexpr int titleHeight = 76;
constexpr int tightTitle = 44;
// Steps are as wide as their rows ask for; what a larger window has more goes to the sheet, and the whole is
// never so large that the eye has to wander.
constexpr int stepsWidth = 720;
constexpr int widest = 1760;
constexpr int highest = 1000;
constexpr int mostAir = 72;
constexpr int startHeight = 120;
constexpr int tightStart = 96;
constexpr int largeStartHeight = 152;
constexpr int largeSide = 640; ///< from this height on Start is larger
constexpr int lowest = 640;    ///< of the place: under it, it is tight for any instrument
constexpr int numberWidth = 104;
constexpr int stepButton = 48;
constexpr int tapButton = 96;
constexpr int narrowTap = 72;
constexpr int hearingWidth = 380;
constexpr int heardWidth = 240;        ///< of "I hear sol#3 (sounds fa#3)"
constexpr double quietClickDb = -24.0; ///< by loudspeaker: low enough to lie under a horn; our choice
constexpr double usualClickDb = OwnSoundSettings::usualDb;

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
    heardNow.setTitle(words::heardNowTitle);
    Look::makeLead(heardNow);
    heardNow.setMinimumHorizontalScale(1.0F);
    heardNow.setBorderSize({});
    for (juce::Component* each :
         std::initializer_list<juce::Component*>{&hearing, &listening, &level, &heardNow, &midi})
        steps.addChildComponent(each);
    buildDevices();
}

void FirstPlace::buildDevices() {
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
        if (const auto bpm = tapTempo.tap(steadySeconds()))
            setTempo(std::round(*bpm));
    };
    for (juce::TextButton* button : {&slower, &quicker, &tap}) {
        button->setWantsKeyboardFocus(true);
        steps.addAndMakeVisible(button);
    }
}

void FirstPlace::setTempo(double bpm) {
    SessionConfig wanted = config;
    wanted.rules = withStart(wanted.rules, juce::jlimit(minBpm, maxBpm, bpm));
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
    g.fillAll(Look::themeOf(*this).ground);
    paintTitle(g);
    if (!tight)
        return;
    paintHeading(g, 2);
    paintTempo(g);
}

/// The line beside the title where it is tight, else under it.
void FirstPlace::paintTitle(juce::Graphics& g) const {
    const Theme& theme = Look::themeOf(*this);
    auto area = titleArea.toFloat();
    const auto font = boldFont(tight ? grid::title + 6.0F : grid::figure);
    g.setColour(theme.text);
    g.setFont(font);
    drawLine(g, words::windowTitle, tight ? area : area.withHeight(52.0F), juce::Justification::centredLeft);
    g.setColour(theme.quiet);
    g.setFont(plainFont(tight ? grid::body : grid::lead));
    if (tight)
        area.removeFromLeft(textWidth(font, words::windowTitle) + static_cast<float>(grid::gutter));
    else
        area.removeFromTop(52.0F);
    drawLine(g, words::firstLine, area,
             tight ? juce::Justification::centredLeft : juce::Justification::topLeft);
}

/// In the larger letters where those fit.
void FirstPlace::paintHeading(juce::Graphics& g, std::size_t step) const {
    const Theme& theme = Look::themeOf(*this);
    auto area = headings[step].withTrimmedBottom(6);
    const juce::String text = words::stepTitles[step];
    g.setFont(
        boldFontFitting(text, static_cast<float>(area.getWidth() - indent), grid::title, grid::caption));
    g.setColour(theme.accentText);
    drawLine(g, juce::String(static_cast<int>(step) + 1), area.removeFromLeft(indent),
             juce::Justification::centredLeft);
    g.setColour(theme.text);
    drawLine(g, text, area, juce::Justification::centredLeft);
}

void FirstPlace::paintTempo(juce::Graphics& g) const {
    const juce::String bpm = toText(words::tempoText(config.rules.startBpm));
    g.setColour(Look::themeOf(*this).text);
    g.setFont(boldFontFitting(bpm, static_cast<float>(tempoArea.getWidth()), grid::figure, grid::lead));
    drawLine(g, bpm, tempoArea, juce::Justification::centred);
}

void FirstPlace::paintSteps(juce::Graphics& g) const {
    for (const std::size_t step : {0U, 1U})
        paintHeading(g, step);
    g.setColour(Look::themeOf(*this).quiet);
    g.setFont(plainFont(grid::body));
    const auto label = [&g](const char* text, int y, int width) {
        drawLine(g, text, juce::Rectangle<int>(indent, y, width, grid::control),
                 juce::Justification::centredLeft);
    };
    for (std::size_t facet = 0; facet < facetCount; ++facet)
        if (facets[facet]->isVisible())
            label(words::facetFields[facet], facetY[facet], labelWidth - grid::unit);
    if (listening.isVisible())
        label(words::listenByField, listening.getY(), labelWidth - grid::unit);
    if (midi.isVisible() && midiShown.empty())
        label(words::noMidiInput, midi.getY(), steps.getWidth() - indent);
    else if (midi.isVisible())
        label(words::midiInputField, midi.getY(), labelWidth - grid::unit);
    if (tight)
        return;
    paintHeading(g, 2);
    paintTempo(g);
}

int FirstPlace::layOutChips(Chips& row, int width, int y) const {
    const int left = indent + labelWidth;
    const int height = row.heightFor(width - left);
    row.setBounds(left, y, width - left, height);
    return y + height;
}

int FirstPlace::layOutInstrument(int width, int y, int rowGap) {
    for (std::size_t facet = 0; facet < facetCount; ++facet) {
        facetY[facet] = y;
        if (facets[facet]->isVisible())
            y = layOutChips(*facets[facet], width, y) + rowGap;
    }
    return y;
}

/// "I hear A3": beside the heading where it is tight, else beside the level or under it; then y is further
/// down.
void FirstPlace::layOutHeardNow(int width, int& y) {
    if (tight) {
        const int title = static_cast<int>(textWidth(boldFont(grid::title), words::stepTitles[1]));
        heardNow.setBounds(headings[1].withTrimmedLeft(indent + title + grid::gutter).withTrimmedBottom(6));
        return;
    }
    const int besides =
        indent + hearingWidth + (byMicrophone() ? 172 : grid::gutter); // the level, if it is shown
    juce::Rectangle<int> area{besides, y, width - besides, grid::control};
    if (area.getWidth() < heardWidth) {
        area = {indent, y + grid::control, width - indent, grid::control};
        y += isHeard() ? area.getHeight() : 0;
    }
    heardNow.setBounds(area);
}

int FirstPlace::layOutHearing(int width, int y, int rowGap) {
    const int wide = tight ? hearingWidth - 64 : hearingWidth;
    hearing.setBounds(indent, y, juce::jmin(width - indent, wide), grid::control);
    level.setBounds(indent + wide, y + 8, juce::jlimit(0, 160, width - indent - wide - 8), 24);
    layOutHeardNow(width, y);
    y += grid::control + rowGap;
    for (Chips* row : {&listening, &midi})
        if (row->isVisible()) // or what stands in place of MIDI inputs
            y = std::max(layOutChips(*row, width, y), y + grid::control) + rowGap;
    return devices() != nullptr ? layOutDevices(width, y) + rowGap : y;
}

/// Heading and row, from the top of the area on.
int FirstPlace::layOutTempo(juce::Rectangle<int> area) {
    headings[2] = area.removeFromTop(tight ? tightHeading : headingHeight);
    auto row = area.removeFromTop(grid::control);
    constexpr int whole = indent + 2 * stepButton + numberWidth + grid::gutter + tapButton;
    const bool hasRoom = row.getWidth() >= whole;
    if (hasRoom)
        row = row.withTrimmedLeft(indent).withWidth(whole - indent);
    slower.setBounds(row.removeFromLeft(stepButton));
    tap.setBounds(row.removeFromRight(hasRoom ? tapButton : narrowTap));
    row.removeFromRight(hasRoom ? grid::gutter : grid::unit);
    quicker.setBounds(row.removeFromRight(stepButton));
    tempoArea = row;
    return area.getY();
}

int FirstPlace::layOutSteps(int width, int air) {
    const int rowGap = (tight ? tightRowGap : leastRowGap) + air / 4;
    const int headingHigh = tight ? tightHeading : headingHeight;
    headings[0] = {0, 0, width, headingHigh};
    const int instrument = layOutInstrument(width, headingHigh, rowGap) + leastRowGap + air;
    headings[1] = {0, instrument, width, headingHigh};
    const int heard = layOutHearing(width, headings[1].getBottom(), rowGap);
    if (tight)
        return heard;
    return layOutTempo({0, heard + leastRowGap + air, width, headingHigh + grid::control}) + grid::unit;
}

/// Beside each other; in two lines, the microphone beside its channel, where there are channels. Returns
/// where they end.
int FirstPlace::layOutDevices(int width, int y) {
    constexpr int labelHeight = 20;
    const std::array<std::pair<ChoiceBox*, juce::Label*>, 4> all{
        {{&system, &systemLabel}, {&output, &outputLabel}, {&input, &inputLabel}, {&channel, &channelLabel}}};
    const int shown = !byMicrophone() ? 2 : hasChannels() ? 4 : 3;
    const int columns = shown == 3 ? 3 : 2;
    const int wide = (width - indent - (columns - 1) * grid::unit) / columns;
    for (int i = 0; i < shown; ++i) {
        const int x = indent + i % columns * (wide + grid::unit);
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
    for (juce::Component* each :
         std::initializer_list<juce::Component*>{&system, &output, &systemLabel, &outputLabel})
        each->setVisible(own);
    input.setVisible(own && byMicrophone());
    inputLabel.setVisible(own && byMicrophone());
    channel.setVisible(hasChannels());
    channelLabel.setVisible(hasChannels());
    tight = getHeight() < lowest;
    if (!tight) {
        layOutWide(getLocalBounds());
        tight = steps.getHeight() > scroll.getHeight();
    }
    if (tight)
        layOutTight(getLocalBounds());
    holdTempo();
    steps.repaint();
    repaint();
}

/// The tempo is set where it is seen.
void FirstPlace::holdTempo() {
    juce::Component& holder = tight ? static_cast<juce::Component&>(*this) : steps;
    for (juce::TextButton* button : {&slower, &quicker, &tap})
        if (button->getParentComponent() != &holder)
            holder.addAndMakeVisible(button);
}

void FirstPlace::layOutWide(juce::Rectangle<int> area) {
    area = area.reduced(2 * grid::margin, 0).withTrimmedBottom(grid::unit);
    area = area.withSizeKeepingCentre(juce::jmin(area.getWidth(), widest),
                                      juce::jmin(area.getHeight(), highest));
    titleArea = area.removeFromTop(titleHeight);
    layOutSide(area.removeFromRight(sideWidth(area.getWidth())));
    area.removeFromRight(grid::margin);
    layOutScroll(area);
}

/// The side from top to foot, the tempo in it.
void FirstPlace::layOutTight(juce::Rectangle<int> area) {
    area = area.reduced(grid::margin, 0).withTrimmedBottom(grid::unit);
    layOutSide(area.removeFromRight(sideWidth(area.getWidth())));
    area.removeFromRight(grid::margin);
    titleArea = area.removeFromTop(tightTitle);
    layOutScroll(area);
}

int FirstPlace::sideWidth(int whole) const {
    const int wanted = stepsWidth + juce::jmax(0, (whole - 1184) / 3);
    return juce::jmax(juce::jlimit(220, 400, getWidth() * 30 / 100), whole - grid::margin - wanted);
}

void FirstPlace::layOutScroll(juce::Rectangle<int> area) {
    scroll.setBounds(area);
    const int width = area.getWidth() - scroll.getScrollBarThickness();
    const int rows = static_cast<int>(facetCount) + 4;
    const int spare = area.getHeight() - layOutSteps(width, 0);
    const int air = juce::jlimit(0, mostAir, spare * 4 / (rows + 8));
    steps.setSize(width, layOutSteps(width, air));
}

void FirstPlace::layOutSide(juce::Rectangle<int> side) {
    const int high = side.getHeight() < largeSide ? startHeight : largeStartHeight;
    start.setBounds(side.removeFromBottom(tight ? tightStart : high).reduced(0, 4));
    side.removeFromBottom(grid::unit);
    if (tight) {
        layOutTempo(side.removeFromBottom(tightHeading + grid::control));
        side.removeFromBottom(grid::unit);
    }
    lookRound.setBounds(side.removeFromBottom(grid::control));
    side.removeFromBottom(grid::gutter);
    if (tight)
        side.removeFromTop(grid::unit);
    sheet.setBounds(side);
}

} // namespace valveladder
