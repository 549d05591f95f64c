#include "Screen/SetupPanel.h"

#include "Screen/Look.h"
#include "Screen/Type.h"
#include "Screen/Wrap.h"
#include "Tempo/TempoMap.h"
#include "View/Words.h"

#include <cmath>

namespace valveladder {

namespace {

constexpr int headingHeight = grid::control + 6;
constexpr int tellsHeight = 4 * grid::margin;

template <std::size_t N>
juce::StringArray listOf(const std::array<const char*, N>& texts) {
    return {texts.data(), static_cast<int>(N)};
}

} // namespace

SetupPanel::SetupPanel(Parameters& parameters) {
    setTitle(words::setUp);
    addBasics(parameters);
    addDrill();
    addRules();
    addSwitches(parameters);
    for (const auto& [form, heading] : parts()) {
        form->setTitle(heading);
        addChildComponent(form);
    }
    for (std::size_t i = 0; i < folds.size(); ++i) {
        folds[i].setTooltip(words::foldHelp);
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
    }
    players.setSelectedItemIndex(all.indexOf(toText(current.player)), juce::dontSendNotification);
}

std::array<std::pair<Form*, const char*>, 4> SetupPanel::parts() {
    return {{{&basics, words::basicsHeading},
             {&drillForm, words::drillHeading},
             {&rulesForm, words::rulesHeading},
             {&switchForm, words::switchesHeading}}};
}

void SetupPanel::addChoices(juce::ComboBox& box, const juce::StringArray& texts) {
    box.addItemList(texts, 1);
    box.onChange = [this] { changed(); };
}

void SetupPanel::addNumber(Form& form, const juce::String& label, juce::Slider& slider, double low,
                           double high, double step, const char* unit) {
    slider.setTextValueSuffix(unit);
    slider.setSliderStyle(juce::Slider::IncDecButtons);
    slider.setTextBoxStyle(juce::Slider::TextBoxLeft, false, 96, grid::control);
    slider.setScrollWheelEnabled(false); // the wheel scrolls the set-up
    slider.setRange(low, high, step);
    slider.onValueChange = [this] { changed(); };
    form.add(label, slider);
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
    basics.add(words::playerField, player);
    players.setTextWhenNothingSelected(words::noDevice);
    players.onChange = [this] {
        SessionConfig config = current;
        config.player = players.getText().toStdString();
        if (!showing && !config.player.empty() && onChange)
            onChange(config);
    };
    basics.add(words::fromLogField, players);
    for (const Instrument& each : catalogue())
        instrument.addItem(toText(each.name), instrument.getNumItems() + 1);
    instrument.onChange = [this] { instrumentChosen(); };
    basics.add(words::instrumentField, instrument);
    addNumber(basics, words::startField, startBpm, minBpm, maxBpm, 1, words::bpmUnit);
    tap.setButtonText(words::tapButton);
    tap.onClick = [this] { tapped(); };
    basics.add(words::tapField, tap);
    addSwitch(*parameters.takeWay, basics);
}

void SetupPanel::leave() const {
    if (onLeft)
        onLeft();
}

void SetupPanel::addDrill() {
    for (juce::ComboBox* box : {&foot, &firstTop, &lastTop})
        box->onChange = [this] { changed(); };
    drillForm.add(words::footField, foot);
    drillForm.add(words::firstTopField, firstTop);
    drillForm.add(words::lastTopField, lastTop);
    addChoices(growth, listOf(words::growths));
    drillForm.add(words::growthField, growth);
    addChoices(shape, listOf(words::shapes));
    drillForm.add(words::shapeField, shape);
    addChoices(noteValue, listOf(words::noteValues));
    drillForm.add(words::noteValueField, noteValue);
    drillForm.add(words::segmentsField, segments);
    segments.setTooltip(words::segmentsHelp);
    addChoices(ratio, listOf(words::ratios));
    drillForm.add(words::ratioField, ratio);
    addNumber(drillForm, words::repeatsField, repeats, 1, DrillLimits::maxRepeats, 1, words::timesUnit);
    addNumber(drillForm, words::restField, rest, 0, 32, 0.5, words::beatsUnit);
    addNumber(drillForm, words::countInField, countIn, 0, 8, 1, words::barsUnit);
    addChoices(fingering, listOf(words::fingerings));
    drillForm.add(words::fingeringField, fingering);
    addChoices(mixing, listOf(words::mixings));
    drillForm.add(words::mixingField, mixing);
    openDrill.setButtonText(words::openButton);
    saveDrill.setButtonText(words::saveButton);
    openDrill.onClick = [this] { drillFileWanted(false); };
    saveDrill.onClick = [this] { drillFileWanted(true); };
    drillForm.add(words::openDrillField, openDrill);
    drillForm.add(words::saveDrillField, saveDrill);
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
    addNumber(rulesForm, words::stepPerDayField, stepPerDay, 0, 3, 0.5, words::bpmUnit);
    addNumber(rulesForm, words::stepPerTakeField, stepPerTake, 0, 3, 0.5, words::bpmUnit);
    addNumber(rulesForm, words::ceilingField, ceiling, minBpm, maxBpm, 1, words::bpmUnit);
    addNumber(rulesForm, words::roundTripField, roundTrip, 0, 1000, 0.1, words::msUnit);
    rulesForm.add(words::measureField, measure);
    measure.setButtonText(words::measureButton);
    measure.setTooltip(words::measureHelp);
    measure.onClick = [this] {
        if (onMeasure)
            onMeasure();
    };
    rulesForm.add(words::keepSoundField, keepSound);
    addNumber(rulesForm, words::soundLimitField, soundLimit, KeepSound::minLimitMb, 1'000'000, 10,
              words::megabytesUnit);
    rulesForm.add(words::dropOldestField, dropOldest);
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
        rulesForm.add(label, *field);
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
    if (const auto bpm = tapTempo.tap(juce::Time::getMillisecondCounterHiRes() / 1000.0))
        startBpm.setValue(std::round(*bpm));
}

void SetupPanel::addSwitch(juce::AudioParameterChoice& parameter, Form& form) {
    auto box = std::make_unique<ChoiceBox>();
    box->addItemList(parameter.choices, 1);
    Switch entry;
    entry.choice = std::make_unique<juce::ComboBoxParameterAttachment>(parameter, *box);
    form.add(parameter.getName(40), *box);
    entry.control = std::move(box);
    switches.push_back(std::move(entry));
}

void SetupPanel::addSwitch(juce::AudioParameterBool& parameter, Form& form) {
    auto toggle = std::make_unique<juce::ToggleButton>(words::onWord);
    Switch entry;
    entry.button = std::make_unique<juce::ButtonParameterAttachment>(parameter, *toggle);
    form.add(parameter.getName(40), *toggle);
    entry.control = std::move(toggle);
    switches.push_back(std::move(entry));
}

void SetupPanel::addNumberSwitch(juce::RangedAudioParameter& parameter, Form& form) {
    auto slider = std::make_unique<juce::Slider>(juce::Slider::IncDecButtons, juce::Slider::TextBoxLeft);
    slider->setTextBoxStyle(juce::Slider::TextBoxLeft, false, 96, grid::control);
    slider->setScrollWheelEnabled(false);
    Switch entry;
    entry.slider = std::make_unique<juce::SliderParameterAttachment>(parameter, *slider);
    if (parameter.getLabel().isNotEmpty())
        slider->setTextValueSuffix(" " + parameter.getLabel());
    form.add(parameter.getName(40), *slider);
    entry.control = std::move(slider);
    switches.push_back(std::move(entry));
}

void SetupPanel::addSwitches(Parameters& parameters) {
    addSwitch(*parameters.tempoFrom, switchForm);
    addNumberSwitch(*parameters.ownTempo, switchForm);
    addNumberSwitch(*parameters.startBar, switchForm);
    addNumberSwitch(*parameters.listenChannel, switchForm);
    addNumberSwitch(*parameters.soundThreshold, switchForm);
    addSwitch(*parameters.click, switchForm);
    addSwitch(*parameters.ownSound, switchForm);
    addNumberSwitch(*parameters.clickLevel, switchForm);
    addSwitch(*parameters.tone, switchForm);
    addNumberSwitch(*parameters.toneLevel, switchForm);
    addNumberSwitch(*parameters.backingLevel, switchForm);
    addSwitch(*parameters.pitch, switchForm);
    addSwitch(*parameters.guide, switchForm);
    addSwitch(*parameters.valveLanes, switchForm);
    addSwitch(*parameters.midiClock, switchForm);
    addSwitch(*parameters.repeat, switchForm);
    addSwitch(*parameters.link, switchForm);
    for (std::size_t i = 0; i < backingPartCount; ++i) {
        addSwitch(*parameters.backing[i], switchForm);
        addNumberSwitch(*parameters.backingChannel[i], switchForm);
    }
}

int SetupPanel::heightFor(int width) const {
    int height = 0;
    const std::array<const Form*, 4> forms{&basics, &drillForm, &rulesForm, &switchForm};
    for (std::size_t i = 0; i < forms.size(); ++i)
        height += headingHeight + (open[i] ? forms[i]->heightFor(width) : 0) + grid::gutter;
    return height + (open[1] ? tellsHeight : 0);
}

void SetupPanel::paint(juce::Graphics& g) {
    const Theme& theme = Look::themeOf(*this);
    g.setColour(theme.quiet);
    g.setFont(boldFont(grid::body));
    drawLine(g, words::basicsHeading, getLocalBounds().withHeight(headingHeight - 6),
             juce::Justification::centredLeft);
}

void SetupPanel::resized() {
    auto area = getLocalBounds();
    std::size_t i = 0;
    for (const auto& [form, heading] : parts()) {
        auto line = area.removeFromTop(headingHeight);
        const int wide = static_cast<int>(textWidth(boldFont(grid::body), folds[i].getButtonText())) + 40;
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
