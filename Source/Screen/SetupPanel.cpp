#include "Screen/SetupPanel.h"

#include "Screen/Look.h"
#include "Screen/Type.h"
#include "Tempo/TempoMap.h"
#include "View/Words.h"

#include <cmath>

namespace valveladder {

namespace {

constexpr int headingHeight = 34;
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
        addAndMakeVisible(form);
    }
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
                           double high, double step) {
    slider.setSliderStyle(juce::Slider::IncDecButtons);
    slider.setTextBoxStyle(juce::Slider::TextBoxLeft, false, 64, grid::control);
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
    for (const Instrument& each : catalogue())
        instrument.addItem(toText(each.name), instrument.getNumItems() + 1);
    instrument.onChange = [this] { instrumentChosen(); };
    basics.add(words::instrumentField, instrument);
    addNumber(basics, words::startField, startBpm, minBpm, maxBpm, 1);
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
    addNumber(drillForm, words::repeatsField, repeats, 1, DrillLimits::maxRepeats, 1);
    addNumber(drillForm, words::restField, rest, 0, 32, 0.5);
    addNumber(drillForm, words::countInField, countIn, 0, 8, 1);
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
    addNumber(rulesForm, words::stepPerDayField, stepPerDay, 0, 3, 0.5);
    addNumber(rulesForm, words::stepPerTakeField, stepPerTake, 0, 3, 0.5);
    addNumber(rulesForm, words::ceilingField, ceiling, minBpm, maxBpm, 1);
    addNumber(rulesForm, words::roundTripField, roundTrip, 0, 1000, 0.1);
    rulesForm.add(words::measureField, measure);
    measure.setButtonText(words::measureButton);
    measure.setTooltip(words::measureHelp);
    measure.onClick = [this] {
        if (onMeasure)
            onMeasure();
    };
    rulesForm.add(words::keepSoundField, keepSound);
    addNumber(rulesForm, words::soundLimitField, soundLimit, KeepSound::minLimitMb, 1'000'000, 10);
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
    slider->setTextBoxStyle(juce::Slider::TextBoxLeft, false, 64, grid::control);
    slider->setScrollWheelEnabled(false);
    Switch entry;
    entry.slider = std::make_unique<juce::SliderParameterAttachment>(parameter, *slider);
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
    for (const Form* form : {&basics, &drillForm, &rulesForm, &switchForm})
        height += headingHeight + form->heightFor(width) + grid::gutter;
    return height + tellsHeight;
}

void SetupPanel::paint(juce::Graphics& g) {
    const Theme& theme = Look::themeOf(*this);
    g.setColour(theme.quiet);
    g.setFont(boldFont(grid::body));
    for (const auto& [form, heading] : parts())
        g.drawText(heading, form->getX(), form->getY() - headingHeight, getWidth(), headingHeight - 6,
                   juce::Justification::centredLeft, false);
}

void SetupPanel::resized() {
    auto area = getLocalBounds();
    for (const auto& [form, heading] : parts()) {
        area.removeFromTop(headingHeight);
        form->setBounds(area.removeFromTop(form->heightFor(getWidth())));
        if (form == &drillForm)
            tells.setBounds(area.removeFromTop(tellsHeight));
        area.removeFromTop(grid::gutter);
    }
}

} // namespace valveladder
