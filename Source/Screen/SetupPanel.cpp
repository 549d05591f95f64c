#include "Screen/SetupPanel.h"

#include "Files/Json.h"
#include "Screen/Look.h"
#include "Screen/Type.h"
#include "Screen/Words.h"
#include "Tempo/TempoMap.h"

#include <algorithm>
#include <cmath>

namespace valveladder {

namespace {

constexpr int headingHeight = 34;

/// Ticks of words::noteValues.
constexpr std::array<int, 6> noteTicks{ticksPerQuarter,     ticksPerQuarter / 2, ticksPerQuarter / 3,
                                       ticksPerQuarter / 4, ticksPerQuarter / 6, ticksPerQuarter / 8};

int indexOfTicks(int ticks) {
    const auto found = std::find(noteTicks.begin(), noteTicks.end(), ticks);
    return found == noteTicks.end() ? -1 : static_cast<int>(found - noteTicks.begin());
}

template <std::size_t N>
juce::StringArray listOf(const std::array<const char*, N>& texts) {
    return {texts.data(), static_cast<int>(N)};
}

/// Of words::ratios.
const std::array<Rhythm, 4> ratioRhythms{Rhythm{{3, 1}}, Rhythm{{2, 1}}, Rhythm{{5, 1}}, Rhythm{{3, 2}}};

int indexOfRatio(const Rhythm& rhythm) {
    for (int i = 0; i < static_cast<int>(ratioRhythms.size()); ++i)
        if (ratioRhythms[static_cast<std::size_t>(i)] == rhythm)
            return i;
    return -1;
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

void SetupPanel::fillPitches() {
    for (juce::ComboBox* box : {&foot, &firstTop, &lastTop}) {
        box->clear(juce::dontSendNotification);
        for (MidiNote note = current.instrument.lowest; note <= current.instrument.highest; ++note)
            box->addItem(toText(pitchName(note, spelling)), note - current.instrument.lowest + 1);
    }
}

void SetupPanel::setSpelling(Spelling wanted) {
    if (wanted == spelling)
        return;
    spelling = wanted;
    show(SessionConfig(current));
}

MidiNote SetupPanel::pitchAt(const juce::ComboBox& box) const {
    return current.instrument.lowest + box.getSelectedId() - 1;
}

void SetupPanel::show(const SessionConfig& config) {
    const juce::ScopedValueSetter<bool> quiet(showing, true);
    current = config;
    constexpr auto silent = juce::dontSendNotification;
    player.setText(toText(config.player), silent);
    const auto& all = catalogue();
    const auto found = std::find_if(all.begin(), all.end(),
                                    [&](const Instrument& i) { return i.id == config.instrument.id; });
    if (found == all.end())
        instrument.setText(toText(config.instrument.name), silent);
    else
        instrument.setSelectedId(static_cast<int>(found - all.begin()) + 1, silent);
    fillPitches();
    const auto* ladder = std::get_if<LadderPattern>(&config.drill.pattern);
    for (juce::ComboBox* box : {&foot, &firstTop, &lastTop, &growth, &shape})
        box->setEnabled(ladder != nullptr);
    if (ladder != nullptr) {
        const int lowest = config.instrument.lowest;
        foot.setSelectedId(ladder->foot - lowest + 1, silent);
        firstTop.setSelectedId(ladder->firstTop - lowest + 1, silent);
        lastTop.setSelectedId(ladder->lastTop - lowest + 1, silent);
        growth.setSelectedItemIndex(static_cast<int>(ladder->growth), silent);
        shape.setSelectedItemIndex(static_cast<int>(ladder->shape), silent);
    }
    noteValue.setSelectedItemIndex(indexOfTicks(config.drill.noteTicks), silent);
    const Rhythm dotted = dottedRhythm(config.drill.segments);
    ratio.setSelectedItemIndex(indexOfRatio(dotted), silent);
    SegmentOrder order = orderOf(config.drill.segments, dotted);
    ownSegments = std::move(order.own);
    segments.setText(juce::String(order.line), silent);
    repeats.setValue(config.drill.repeats, silent);
    rest.setEnabled(config.drill.rest.unit == Rest::Unit::beats);
    rest.setValue(config.drill.rest.amount, silent);
    countIn.setValue(config.drill.countInBars, silent);
    fingering.setSelectedItemIndex(static_cast<int>(config.drill.fingering.policy), silent);
    mixing.setSelectedItemIndex(static_cast<int>(config.drill.fingering.mix), silent);
    mixing.setEnabled(config.drill.fingering.policy == Policy::mixed);
    startBpm.setValue(config.rules.startBpm, silent);
    stepPerDay.setValue(config.rules.stepPerDay, silent);
    stepPerTake.setValue(config.rules.stepPerTake, silent);
    ceiling.setValue(config.rules.ceilingBpm, silent);
    roundTrip.setValue(config.roundTripMs.value_or(0.0), silent);
    keepSound.setToggleState(config.keepSound.on, silent);
    soundLimit.setValue(config.keepSound.limitMb, silent);
    dropOldest.setToggleState(config.keepSound.dropOldest, silent);
    startPedal.show(config.pedals.start);
    markPedal.show(config.pedals.mark);
    repeatPedal.show(config.pedals.repeat);
}

Result<SessionConfig> SetupPanel::entered() const {
    SessionConfig config = current;
    config.player = player.getText().trim().toStdString();
    if (auto* ladder = std::get_if<LadderPattern>(&config.drill.pattern)) {
        ladder->foot = pitchAt(foot);
        ladder->firstTop = pitchAt(firstTop);
        ladder->lastTop = pitchAt(lastTop);
        ladder->growth = static_cast<Growth>(growth.getSelectedItemIndex());
        ladder->shape = static_cast<Shape>(shape.getSelectedItemIndex());
    }
    if (const int value = noteValue.getSelectedItemIndex(); value >= 0)
        config.drill.noteTicks = noteTicks[static_cast<std::size_t>(value)];
    const int ratioIndex = ratio.getSelectedItemIndex();
    const Rhythm dotted = ratioIndex >= 0 ? ratioRhythms[static_cast<std::size_t>(ratioIndex)]
                                          : dottedRhythm(current.drill.segments);
    auto order = segmentsFrom(segments.getText().toStdString(), dotted, ownSegments);
    if (!order)
        return order.problem();
    config.drill.segments = std::move(order.value());
    config.drill.repeats = static_cast<int>(repeats.getValue());
    if (config.drill.rest.unit == Rest::Unit::beats)
        config.drill.rest.amount = rest.getValue();
    config.drill.countInBars = static_cast<int>(countIn.getValue());
    config.drill.fingering.policy = static_cast<Policy>(fingering.getSelectedItemIndex());
    config.drill.fingering.mix = static_cast<MixRule>(mixing.getSelectedItemIndex());
    config.rules.startBpm = startBpm.getValue();
    config.rules.stepPerDay = stepPerDay.getValue();
    config.rules.stepPerTake = stepPerTake.getValue();
    config.rules.ceilingBpm = ceiling.getValue();
    config.pedals = {startPedal.pedal(), markPedal.pedal(), repeatPedal.pedal()};
    config.keepSound = {keepSound.getToggleState(), juce::roundToInt(soundLimit.getValue()),
                        dropOldest.getToggleState()};
    // 0 stands for "none known": no device is that quick.
    config.roundTripMs = roundTrip.getValue() > 0.0 ? std::optional(roundTrip.getValue()) : std::nullopt;
    return config;
}

void SetupPanel::changed() {
    if (showing)
        return;
    auto config = entered();
    if (!config) {
        if (onProblem)
            onProblem(config.problem());
        return;
    }
    if (config.value() != current && onChange)
        onChange(config.value());
}

void SetupPanel::instrumentChosen() {
    const int index = instrument.getSelectedItemIndex();
    if (showing || index < 0)
        return;
    SessionConfig config = current;
    config.instrument = catalogue()[static_cast<std::size_t>(index)];
    // Pitches of one instrument's ladder mean nothing on the next; what is not about pitch stays.
    const Drill fresh = defaultDrill(config.instrument);
    config.drill.pattern = fresh.pattern;
    config.drill.fingering = fresh.fingering;
    if (onChange)
        onChange(config);
}

void SetupPanel::drillFileWanted(bool save) {
    const auto folder = juce::File::getSpecialLocation(juce::File::userDocumentsDirectory);
    chooser = std::make_unique<juce::FileChooser>(save ? words::saveDrillTitle : words::openDrillField,
                                                  folder, "*.json");
    const int chooserFlags =
        save ? juce::FileBrowserComponent::saveMode | juce::FileBrowserComponent::warnAboutOverwriting
             : juce::FileBrowserComponent::openMode | juce::FileBrowserComponent::canSelectFiles;
    chooser->launchAsync(chooserFlags, [this, save](const juce::FileChooser& chosen) {
        const juce::File file = chosen.getResult();
        if (file == juce::File())
            return;
        if (!save)
            readDrillFile(file);
        else if (!file.replaceWithText(toText(toJson(current.drill))) && onProblem)
            onProblem({words::drillNotWritten, file.getFullPathName().toStdString(), words::otherFolder});
    });
}

void SetupPanel::readDrillFile(const juce::File& file) {
    constexpr juce::int64 maxBytes = 4 << 20;
    if (file.getSize() > maxBytes) {
        if (onProblem)
            onProblem({words::drillTooLarge, file.getFullPathName().toStdString(), words::chooseDrill});
        return;
    }
    auto drill = drillFromJson(file.loadFileAsString().toStdString());
    if (!drill) {
        if (onProblem)
            onProblem(drill.problem());
        return;
    }
    SessionConfig config = current;
    config.drill = drill.value();
    if (onChange)
        onChange(config);
}

int SetupPanel::heightFor(int width) const {
    int height = 0;
    for (const Form* form : {&basics, &drillForm, &rulesForm, &switchForm})
        height += headingHeight + form->heightFor(width) + grid::gutter;
    return height;
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
        area.removeFromTop(grid::gutter);
    }
}

} // namespace valveladder
