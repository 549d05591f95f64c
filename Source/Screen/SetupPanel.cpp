#include "Screen/SetupPanel.h"

#include "Files/Json.h"
#include "Screen/Look.h"
#include "Screen/Type.h"
#include "Screen/Words.h"
#include "Tempo/TempoMap.h"

#include <cmath>

namespace valveladder {

namespace {

constexpr int headingHeight = 34;

struct NoteValue {
    const char* name;
    int ticks;
};
constexpr std::array<NoteValue, 6> noteValues{{{"Quarter", ticksPerQuarter},
                                               {"Eighth", ticksPerQuarter / 2},
                                               {"Eighth triplet", ticksPerQuarter / 3},
                                               {"Sixteenth", ticksPerQuarter / 4},
                                               {"Sixteenth triplet", ticksPerQuarter / 6},
                                               {"Thirty-second", ticksPerQuarter / 8}}};

int indexOfTicks(int ticks) {
    for (int i = 0; i < static_cast<int>(noteValues.size()); ++i)
        if (noteValues[static_cast<std::size_t>(i)].ticks == ticks)
            return i;
    return -1;
}

const juce::StringArray ratios{"3 : 1", "2 : 1", "5 : 1", "3 : 2"};
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
    for (Form* form : {&basics, &drillForm, &rulesForm, &switchForm})
        addAndMakeVisible(form);
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
        editor->onReturnKey = [this] { changed(); };
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

void SetupPanel::addDrill() {
    for (juce::ComboBox* box : {&foot, &firstTop, &lastTop})
        box->onChange = [this] { changed(); };
    drillForm.add("Foot (written)", foot);
    drillForm.add("First top", firstTop);
    drillForm.add("Last top", lastTop);
    addChoices(growth, {"Shifts up", "Extends up"});
    drillForm.add("The ladder", growth);
    addChoices(shape, {"Up", "Up and down", "Down and up"});
    drillForm.add("Shape", shape);
    juce::StringArray values;
    for (const NoteValue& value : noteValues)
        values.add(value.name);
    addChoices(noteValue, values);
    drillForm.add("Note value", noteValue);
    drillForm.add("Segments", segments);
    segments.setHelpText(words::segmentsHelp);
    addChoices(ratio, ratios);
    drillForm.add("Long : short", ratio);
    addNumber(drillForm, "Repeats", repeats, 1, DrillLimits::maxRepeats, 1);
    addNumber(drillForm, "Rest (beats)", rest, 0, 32, 0.5);
    addNumber(drillForm, "Count-in (bars)", countIn, 0, 8, 1);
    addChoices(fingering, {"Usual", "Fourth valve", "1-3", "Mixed"});
    drillForm.add("Fingerings", fingering);
    addChoices(mixing, {"by rung", "by segment", "by note"});
    drillForm.add("Mixed", mixing);
    openDrill.setButtonText(words::openButton);
    saveDrill.setButtonText(words::saveButton);
    openDrill.onClick = [this] { drillFileWanted(false); };
    saveDrill.onClick = [this] { drillFileWanted(true); };
    drillForm.add("Open a drill", openDrill);
    drillForm.add("Keep the drill", saveDrill);
}

void SetupPanel::addRules() {
    addNumber(rulesForm, "Step a day", stepPerDay, 0, 3, 0.5);
    addNumber(rulesForm, "Step a take", stepPerTake, 0, 3, 0.5);
    addNumber(rulesForm, "Ceiling (bpm)", ceiling, minBpm, maxBpm, 1);
    addNumber(rulesForm, "Round trip (ms)", roundTrip, 0, 1000, 0.1);
    rulesForm.add("Round trip by clicks", measure);
    measure.setTooltip("Six short clicks: take headphones off, and hold one to the microphone");
    measure.onClick = [this] {
        if (onMeasure)
            onMeasure();
    };
    rulesForm.add("Keep takes' sound", keepSound);
    addNumber(rulesForm, "Kept sound (MB)", soundLimit, KeepSound::minLimitMb, 1'000'000, 10);
    rulesForm.add("Oldest makes room", dropOldest);
    for (juce::ToggleButton* toggle : {&keepSound, &dropOldest})
        toggle->onClick = [this] { changed(); };
    addNumber(rulesForm, "Mark by note", markNote, -1, 127, 1);
    addNumber(rulesForm, "Mark by controller", markController, -1, 127, 1);
    for (juce::Slider* mark : {&markNote, &markController}) {
        mark->textFromValueFunction = [](double value) {
            return value < 0 ? juce::String("none") : juce::String(juce::roundToInt(value));
        };
        mark->updateText();
    }
    learnMark.setButtonText(words::learnButton);
    learnMark.setClickingTogglesState(true);
    learnMark.setHelpText(words::learnHelp);
    rulesForm.add(words::learnField, learnMark);
}

void SetupPanel::heard(bool isController, int number) {
    if (!learning())
        return;
    learnMark.setToggleState(false, juce::dontSendNotification);
    markNote.setValue(isController ? -1 : number, juce::dontSendNotification);
    markController.setValue(isController ? number : -1, juce::dontSendNotification);
    changed();
}

void SetupPanel::tapped() {
    if (const auto bpm = tapTempo.tap(juce::Time::getMillisecondCounterHiRes() / 1000.0))
        startBpm.setValue(std::round(*bpm));
}

void SetupPanel::addSwitch(juce::AudioParameterChoice& parameter, Form& form) {
    auto box = std::make_unique<juce::ComboBox>();
    box->addItemList(parameter.choices, 1);
    Switch entry;
    entry.choice = std::make_unique<juce::ComboBoxParameterAttachment>(parameter, *box);
    form.add(parameter.getName(40), *box);
    entry.control = std::move(box);
    switches.push_back(std::move(entry));
}

void SetupPanel::addSwitch(juce::AudioParameterBool& parameter, Form& form) {
    auto toggle = std::make_unique<juce::ToggleButton>("on");
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
            box->addItem(toText(pitchName(note)), note - current.instrument.lowest + 1);
    }
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
    markNote.setValue(config.mark.note, silent);
    markController.setValue(config.mark.controller, silent);
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
        config.drill.noteTicks = noteValues[static_cast<std::size_t>(value)].ticks;
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
    config.mark.note = juce::roundToInt(markNote.getValue());
    config.mark.controller = juce::roundToInt(markController.getValue());
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
    chooser =
        std::make_unique<juce::FileChooser>(save ? "Keep the drill as" : "Open a drill", folder, "*.json");
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
            onProblem({"the drill could not be written", file.getFullPathName().toStdString(),
                       "choose a folder that you may write to"});
    });
}

void SetupPanel::readDrillFile(const juce::File& file) {
    constexpr juce::int64 maxBytes = 4 << 20;
    if (file.getSize() > maxBytes) {
        if (onProblem)
            onProblem({"the file is too large for a drill", file.getFullPathName().toStdString(),
                       "choose a drill file"});
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
    const std::initializer_list<std::pair<const Form*, const char*>> parts{
        {&basics, words::basicsHeading},
        {&drillForm, words::drillHeading},
        {&rulesForm, words::rulesHeading},
        {&switchForm, words::switchesHeading}};
    g.setColour(theme.quiet);
    g.setFont(boldFont(grid::body));
    for (const auto& [form, heading] : parts)
        g.drawText(heading, form->getX(), form->getY() - headingHeight, getWidth(), headingHeight - 6,
                   juce::Justification::centredLeft, false);
}

void SetupPanel::resized() {
    auto area = getLocalBounds();
    for (Form* form : {&basics, &drillForm, &rulesForm, &switchForm}) {
        area.removeFromTop(headingHeight);
        form->setBounds(area.removeFromTop(form->heightFor(getWidth())));
        area.removeFromTop(grid::gutter);
    }
}

} // namespace valveladder
