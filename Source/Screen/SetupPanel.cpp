#include "Screen/SetupPanel.h"

#include "Base/RoundTripRange.h"
#include "Screen/Heading.h"
#include "Screen/Look.h"
#include "Screen/SteadySeconds.h"
#include "Screen/Type.h"
#include "Tempo/TempoMap.h"
#include "View/Words.h"

#include <cmath>

namespace valveladder {

namespace {

constexpr int tellsHeight = 4 * grid::margin;

template <std::size_t N>
juce::StringArray listOf(const std::array<const char*, N>& texts) {
    return {texts.data(), static_cast<int>(N)};
}

} // namespace

SetupPanel::SetupPanel(Parameters& parameters, bool hosted) : inHost(hosted) {
    setTitle(words::setUp);
    addBasics(parameters);
    addDrill();
    addRules();
    addSwitches(parameters);
    addLookRound();
    for (const auto& [form, heading] : parts()) {
        form->setTitle(heading);
        addChildComponent(form);
    }
    for (std::size_t i = 0; i < folds.size(); ++i) {
        folds[i].setWantsKeyboardFocus(true);
        folds[i].onClick = [this, i] { unfold(i, !open[i]); };
        addAndMakeVisible(folds[i]);
    }
    unfoldAll(false);
}

void SetupPanel::unfold(std::size_t part, bool wanted) {
    open[part] = wanted;
    showOpen();
}

void SetupPanel::unfoldAll(bool wanted) {
    open.fill(wanted);
    open[0] = true; // what matters
    showOpen();
}

void SetupPanel::showOpen() {
    std::size_t i = 0;
    for (const auto& [form, heading] : parts()) {
        form->setVisible(open[i]);
        folds[i].setVisible(i > 0);
        folds[i].setButtonText(juce::String(heading) + (open[i] ? words::unfolded : words::folded));
        folds[i].setTitle(heading);
        folds[i].setTooltip(words::foldHelps[i]);
        ++i;
    }
    tells.setVisible(open[1]);
    resized();
    if (onHeight)
        onHeight();
}

void SetupPanel::showPlayers(const std::vector<std::string>& names) {
    juce::StringArray all;
    for (const std::string& name : names)
        all.add(toText(name));
    juce::StringArray before;
    for (int i = 0; i < players.getNumItems(); ++i)
        before.add(players.getItemText(i));
    if (all != before) {
        players.clear(juce::dontSendNotification);
        players.addItemList(all, 1);
        players.setTextWhenNothingSelected(all.isEmpty() ? words::noDevice : words::choosePlayer);
    }
    players.setSelectedItemIndex(all.indexOf(toText(current.player)), juce::dontSendNotification);
}

std::array<std::pair<Form*, const char*>, SetupPanel::partCount> SetupPanel::parts() {
    return {{{&basics, words::basicsHeading},
             {&drillForm, words::drillHeading},
             {&rulesForm, words::rulesHeading},
             {&switchForm, words::switchesHeading},
             {&lookForm, words::lookRoundHeading}}};
}

void SetupPanel::addChoices(juce::ComboBox& box, const juce::StringArray& texts) {
    box.addItemList(texts, 1);
    box.onChange = [this] { changed(); };
}

void SetupPanel::addNumber(Form& form, const juce::String& label, const juce::String& help,
                           juce::Slider& slider, const Span& span) {
    slider.setTextValueSuffix(span.unit);
    slider.setSliderStyle(juce::Slider::IncDecButtons);
    slider.setTextBoxStyle(juce::Slider::TextBoxLeft, false, 96, grid::control);
    slider.setScrollWheelEnabled(false); // the wheel scrolls the set-up
    slider.setRange(span.low, span.high, span.step);
    slider.onValueChange = [this] { changed(); };
    form.add(label, help, slider);
}

/// All that a first-time player must look at.
void SetupPanel::addBasics(Parameters& parameters) {
    for (juce::TextEditor* editor : {&player, &segments}) {
        editor->onReturnKey = [this] {
            changed();
            leave();
        };
        editor->onEscapeKey = [this] {
            show(SessionConfig(current));
            leave();
        };
        editor->onFocusLost = [this] { changed(); };
    }
    basics.add(words::playerField, words::playerHelp, player);
    players.setTextWhenNothingSelected(words::noDevice);
    players.onChange = [this] {
        SessionConfig config = current;
        config.player = players.getText().toStdString();
        if (!showing && !config.player.empty() && onChange)
            onChange(config);
    };
    basics.add(words::fromLogField, words::fromLogHelp, players);
    for (const Instrument& each : catalogue())
        instrument.addItem(toText(each.name), instrument.getNumItems() + 1);
    instrument.onChange = [this] { instrumentChosen(); };
    basics.add(words::instrumentField, words::instrumentHelp, instrument);
    addNumber(basics, words::startField, words::startTempoHelp, startBpm,
              {minBpm, maxBpm, 1, words::bpmUnit});
    tap.setButtonText(words::tapButton);
    tap.onClick = [this] { tapped(); };
    tap.setTitle(words::tapField);
    tap.setTooltip(words::tapHelp);
    basics.addBeside(tap);
    addTakeWay(*parameters.takeWay);
}

void SetupPanel::leave() const {
    if (onLeft)
        onLeft();
}

void SetupPanel::addDrill() {
    for (juce::ComboBox* box : {&foot, &firstTop, &lastTop})
        box->onChange = [this] { changed(); };
    drillForm.add(words::footField, words::footHelp, foot);
    drillForm.add(words::firstTopField, words::firstTopHelp, firstTop);
    drillForm.add(words::lastTopField, words::lastTopHelp, lastTop);
    addChoices(growth, listOf(words::growths));
    drillForm.add(words::growthField, words::growthHelp, growth);
    addChoices(shape, listOf(words::shapes));
    drillForm.add(words::shapeField, words::shapeHelp, shape);
    addChoices(noteValue, listOf(words::noteValues));
    drillForm.add(words::noteValueField, words::noteValueHelp, noteValue);
    drillForm.add(words::segmentsField, words::segmentsHelp, segments);
    addChoices(ratio, listOf(words::ratios));
    drillForm.add(words::ratioField, words::ratioHelp, ratio);
    addNumber(drillForm, words::repeatsField, toText(words::repeatsHelp()), repeats,
              {1, DrillLimits::maxRepeats, 1, words::timesUnit});
    addNumber(drillForm, words::restField, toText(words::restHelp()), rest,
              {0, mostFieldRestBeats, 0.5, words::beatsUnit});
    addNumber(drillForm, words::countInField, toText(words::countInHelp()), countIn,
              {0, DrillLimits::maxCountInBars, 1, words::barsUnit});
    addChoices(fingering, listOf(words::fingerings));
    drillForm.add(words::fingeringField, words::fingeringHelp, fingering);
    addChoices(mixing, listOf(words::mixings));
    drillForm.add(words::mixingField, words::mixingHelp, mixing);
    openDrill.setButtonText(words::openButton);
    saveDrill.setButtonText(words::saveButton);
    openDrill.onClick = [this] { drillFileWanted(false); };
    saveDrill.onClick = [this] { drillFileWanted(true); };
    drillForm.add(words::openDrillField, words::openDrillHelp, openDrill);
    drillForm.add(words::saveDrillField, words::saveDrillHelp, saveDrill);
    tells.setTitle(words::tellsTitle);
    tells.setFont(plainFont(grid::body));
    tells.setJustificationType(juce::Justification::topLeft);
    tells.setMinimumHorizontalScale(1.0F);
    addAndMakeVisible(tells);
}

void SetupPanel::showLeftOpen(const std::vector<std::string>& left) {
    const juce::String text = toText(words::whatDrillTells(left));
    tells.setText(text, juce::dontSendNotification);
    tells.setTooltip(text);
}

void SetupPanel::addRules() {
    addNumber(rulesForm, words::stepPerDayField, words::stepPerDayHelp, stepPerDay,
              {0, TempoLimits::maxStep, 0.5, words::bpmUnit});
    addNumber(rulesForm, words::stepPerTakeField, words::stepPerTakeHelp, stepPerTake,
              {0, TempoLimits::maxStep, 0.5, words::bpmUnit});
    addNumber(rulesForm, words::ceilingField, words::ceilingHelp, ceiling,
              {minBpm, maxBpm, 1, words::bpmUnit});
    addNumber(rulesForm, words::roundTripField, words::roundTripHelp, roundTrip,
              {liveRoundTrip.leastMs, liveRoundTrip.mostMs, 0.1, words::msUnit});
    rulesForm.add(words::measureField, words::measureHelp, measure);
    measure.setButtonText(words::measureButton);
    measure.onClick = [this] {
        if (onMeasure)
            onMeasure();
    };
    rulesForm.add(words::keepSoundField, words::keepSoundHelp, keepSound);
    addNumber(rulesForm, words::soundLimitField, words::soundLimitHelp, soundLimit,
              {KeepSound::minLimitMb, 1'000'000, 10, words::megabytesUnit});
    rulesForm.add(words::dropOldestField, words::dropOldestHelp, dropOldest);
    keepSound.setButtonText(words::onWord);
    dropOldest.setButtonText(words::agreedWord);
    for (juce::ToggleButton* toggle : {&keepSound, &dropOldest})
        toggle->onClick = [this] { changed(); };
    addPedals();
}

void SetupPanel::addPedals() {
    const std::initializer_list<std::pair<PedalField*, const char*>> pedals{
        {&startPedal, words::startPedal}, {&markPedal, words::markPedal}, {&repeatPedal, words::repeatPedal}};
    for (const auto& [field, label] : pedals) {
        rulesForm.add(label, words::learnHelp, *field);
        field->setWantsKeyboardFocus(false); // its buttons take it
        field->setPurpose(label);
        field->onChange = [this] { changed(); };
        field->onLearn = [this, only = field] {
            for (PedalField* other : {&startPedal, &markPedal, &repeatPedal})
                if (other != only)
                    other->stopLearning();
        };
    }
}

void SetupPanel::addLookRound() {
    lookRound.setButtonText(words::lookRoundButton);
    firstSteps.setButtonText(words::firstStepsButton);
    lookRound.onClick = [this] {
        if (onLookRound)
            onLookRound();
    };
    firstSteps.onClick = [this] {
        if (onFirstSteps)
            onFirstSteps();
    };
    lookForm.add(words::lookRoundField, words::lookRoundHelp, lookRound);
    lookForm.add(words::firstStepsField, words::firstStepsHelp, firstSteps);
}

bool SetupPanel::learning() const {
    return startPedal.learning() || markPedal.learning() || repeatPedal.learning();
}

/// A pedal does one thing: what is learned anew is taken from the others.
void SetupPanel::heard(bool isController, int number) {
    for (PedalField* field : {&startPedal, &markPedal, &repeatPedal}) {
        if (!field->learning())
            continue;
        const Pedal pressed = isController ? Pedal{-1, number} : Pedal{number, -1};
        for (PedalField* other : {&startPedal, &markPedal, &repeatPedal})
            if (other != field && other->pedal() == pressed)
                other->show({});
        field->heard(isController, number);
        return;
    }
}

void SetupPanel::tapped() {
    if (const auto bpm = tapTempo.tap(steadySeconds()))
        startBpm.setValue(std::round(*bpm));
}

void SetupPanel::addSwitch(juce::AudioParameterChoice& parameter, const juce::String& help, Form& form) {
    auto box = std::make_unique<ChoiceBox>();
    box->addItemList(parameter.choices, 1);
    Switch entry;
    entry.choice = std::make_unique<juce::ComboBoxParameterAttachment>(parameter, *box);
    form.add(parameter.getName(40), help, *box);
    entry.control = std::move(box);
    switches.push_back(std::move(entry));
}

void SetupPanel::addSwitch(juce::AudioParameterBool& parameter, const juce::String& help, Form& form) {
    auto toggle = std::make_unique<juce::ToggleButton>(words::onWord);
    Switch entry;
    entry.button = std::make_unique<juce::ButtonParameterAttachment>(parameter, *toggle);
    form.add(parameter.getName(40), help, *toggle);
    entry.control = std::move(toggle);
    switches.push_back(std::move(entry));
}

void SetupPanel::addNumberSwitch(juce::RangedAudioParameter& parameter, const juce::String& help,
                                 Form& form) {
    auto slider = std::make_unique<juce::Slider>(juce::Slider::IncDecButtons, juce::Slider::TextBoxLeft);
    slider->setTextBoxStyle(juce::Slider::TextBoxLeft, false, 96, grid::control);
    slider->setScrollWheelEnabled(false);
    Switch entry;
    entry.slider = std::make_unique<juce::SliderParameterAttachment>(parameter, *slider);
    if (parameter.getLabel().isNotEmpty())
        slider->setTextValueSuffix(" " + parameter.getLabel());
    form.add(parameter.getName(40), help, *slider);
    entry.control = std::move(slider);
    switches.push_back(std::move(entry));
}

/// Without a host there is nothing that records, loops or rolls but our own clock.
void SetupPanel::addTakeWay(juce::AudioParameterChoice& way) {
    if (inHost)
        return addSwitch(way, words::takeWayHelp, basics);
    for (const auto& [index, text] : words::takeWaysAlone)
        takeWay.addItem(text, index + 1);
    takeWay.setTextWhenNothingSelected(words::noDevice);
    takeWayAttachment = std::make_unique<juce::ParameterAttachment>(way, [this](float index) {
        takeWay.setSelectedId(juce::roundToInt(index) + 1, juce::dontSendNotification);
    });
    takeWayAttachment->sendInitialUpdate();
    takeWay.onChange = [this] {
        takeWayAttachment->setValueAsCompleteGesture(static_cast<float>(takeWay.getSelectedId() - 1));
    };
    basics.add(way.getName(40), words::takeWayAloneHelp, takeWay);
}

void SetupPanel::addSwitches(Parameters& parameters) {
    addSwitch(*parameters.tempoFrom, words::tempoFromHelp, switchForm);
    addNumberSwitch(*parameters.ownTempo, words::ownTempoHelp, switchForm);
    if (inHost)
        addNumberSwitch(*parameters.startBar, words::startBarHelp, switchForm);
    addNumberSwitch(*parameters.listenChannel, words::listenChannelHelp, switchForm);
    addNumberSwitch(*parameters.soundThreshold, words::soundThresholdHelp, switchForm);
    addSwitch(*parameters.click, words::clickParameterHelp, switchForm);
    addSwitch(*parameters.ownSound, words::ownSoundHelp, switchForm);
    addNumberSwitch(*parameters.clickLevel, words::clickLevelHelp, switchForm);
    addSwitch(*parameters.tone, words::toneHelp, switchForm);
    addNumberSwitch(*parameters.toneLevel, words::toneLevelHelp, switchForm);
    addNumberSwitch(*parameters.backingLevel, words::backingLevelHelp, switchForm);
    addSwitch(*parameters.pitch, words::guidePitchHelp, switchForm);
    addSwitch(*parameters.guide, words::guideHelp, switchForm);
    addSwitch(*parameters.valveLanes, words::valveLanesHelp, switchForm);
    addSwitch(*parameters.midiClock, words::midiClockHelp, switchForm);
    addSwitch(*parameters.repeat, words::repeatDrillHelp, switchForm);
    addSwitch(*parameters.link, words::linkHelp, switchForm);
    for (std::size_t i = 0; i < backingPartCount; ++i) {
        addSwitch(*parameters.backing[i], words::backingHelp, switchForm);
        addNumberSwitch(*parameters.backingChannel[i], words::backingChannelHelp, switchForm);
    }
}

int SetupPanel::heightFor(int width) const {
    int height = 0;
    const std::array<const Form*, partCount> forms{&basics, &drillForm, &rulesForm, &switchForm, &lookForm};
    for (std::size_t i = 0; i < forms.size(); ++i)
        height += grid::headingLine + (open[i] ? forms[i]->heightFor(width) : 0) + grid::gutter;
    return height + (open[1] ? tellsHeight : 0);
}

void SetupPanel::showWhole(const juce::Rectangle<int>& seen) {
    const juce::Range<int> heights{seen.getY(), seen.getBottom()};
    for (const auto& [form, heading] : parts())
        form->showWhole(heights - form->getY());
    showIfWhole(tells, heights);
    for (juce::TextButton& fold : folds)
        showIfWhole(fold, heights);
    if (const bool whole = seen.getY() <= 0; whole != headingSeen) {
        headingSeen = whole;
        repaint();
    }
}

void SetupPanel::paint(juce::Graphics& g) {
    if (!headingSeen)
        return;
    drawHeading(g, words::basicsHeading, getLocalBounds().withHeight(grid::control),
                Look::themeOf(*this).quiet, juce::Justification::centredLeft);
}

void SetupPanel::resized() {
    auto area = getLocalBounds();
    std::size_t i = 0;
    for (const auto& [form, heading] : parts()) {
        auto line = area.removeFromTop(grid::headingLine);
        const int wide = buttonWidth(folds[i], boldFont(grid::body), 20);
        folds[i].setBounds(line.removeFromLeft(juce::jmin(wide, line.getWidth())).withHeight(grid::control));
        if (open[i]) {
            form->setBounds(area.removeFromTop(form->heightFor(getWidth())));
            if (form == &drillForm)
                tells.setBounds(area.removeFromTop(tellsHeight));
        }
        area.removeFromTop(grid::gutter);
        ++i;
    }
}

} // namespace valveladder
