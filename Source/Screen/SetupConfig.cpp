// The configuration as the set-up's fields show it and read it back, as against how they are laid out.

#include "Screen/SetupPanel.h"
#include "Screen/Type.h"
#include "Tempo/TempoMap.h"
#include "View/Words.h"

#include <algorithm>
#include <array>

namespace valveladder {

namespace {

constexpr auto silent = juce::dontSendNotification;

/// Ticks of words::noteValues.
constexpr std::array<int, 6> noteTicks{ticksPerQuarter,     ticksPerQuarter / 2, ticksPerQuarter / 3,
                                       ticksPerQuarter / 4, ticksPerQuarter / 6, ticksPerQuarter / 8};

int indexOfTicks(int ticks) {
    const auto found = std::find(noteTicks.begin(), noteTicks.end(), ticks);
    return found == noteTicks.end() ? -1 : static_cast<int>(found - noteTicks.begin());
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

void SetupPanel::fillPitches() {
    const Spelling names = spelling.value_or(writtenSpelling(current.instrument));
    for (juce::ComboBox* box : {&foot, &firstTop, &lastTop}) {
        box->clear(juce::dontSendNotification);
        for (MidiNote note = current.instrument.lowest; note <= current.instrument.highest; ++note)
            box->addItem(toText(pitchName(note, names)), note - current.instrument.lowest + 1);
    }
}

void SetupPanel::setSpelling(std::optional<Spelling> wanted) {
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
    player.setText(toText(config.player), silent);
    showInstrument(config.instrument);
    fillPitches();
    showPattern(config.drill);
    showRhythm(config.drill);
    showFingering(config.drill);
    showRules(config.rules);
    roundTrip.setValue(config.roundTripMs.value_or(0.0), silent);
    keepSound.setToggleState(config.keepSound.on, silent);
    soundLimit.setValue(config.keepSound.limitMb, silent);
    dropOldest.setToggleState(config.keepSound.dropOldest, silent);
    startPedal.show(config.pedals.start);
    markPedal.show(config.pedals.mark);
    repeatPedal.show(config.pedals.repeat);
}

/// By its name alone where it is none of the catalogue's.
void SetupPanel::showInstrument(const Instrument& played) {
    const auto& all = catalogue();
    const auto found =
        std::find_if(all.begin(), all.end(), [&](const Instrument& i) { return i.id == played.id; });
    if (found == all.end())
        instrument.setText(toText(played.name), silent);
    else
        instrument.setSelectedId(static_cast<int>(found - all.begin()) + 1, silent);
}

/// The ladder's notes, among those of the instrument shown; a drill of cells has its own.
void SetupPanel::showPattern(const Drill& drill) {
    const auto* ladder = std::get_if<LadderPattern>(&drill.pattern);
    for (juce::ComboBox* box : {&foot, &firstTop, &lastTop, &growth, &shape}) {
        box->setEnabled(ladder != nullptr);
        if (ladder == nullptr)
            box->setText(words::ofTheDrill, silent);
    }
    if (ladder == nullptr)
        return;
    const int lowest = current.instrument.lowest;
    foot.setSelectedId(ladder->foot - lowest + 1, silent);
    firstTop.setSelectedId(ladder->firstTop - lowest + 1, silent);
    lastTop.setSelectedId(ladder->lastTop - lowest + 1, silent);
    growth.setSelectedItemIndex(static_cast<int>(ladder->growth), silent);
    shape.setSelectedItemIndex(static_cast<int>(ladder->shape), silent);
}

void SetupPanel::showRhythm(const Drill& drill) {
    noteValue.setSelectedItemIndex(indexOfTicks(drill.noteTicks), silent);
    const Rhythm dotted = dottedRhythm(drill.segments);
    ratio.setSelectedItemIndex(indexOfRatio(dotted), silent);
    SegmentOrder order = orderOf(drill.segments, dotted);
    ownSegments = std::move(order.own);
    segments.setText(juce::String(order.line), silent);
    repeats.setValue(drill.repeats, silent);
    rest.setEnabled(drill.rest.unit == Rest::Unit::beats);
    rest.setValue(drill.rest.amount, silent);
    countIn.setValue(drill.countInBars, silent);
}

void SetupPanel::showFingering(const Drill& drill) {
    const Policy policy = drill.fingering.policy;
    fingering.setSelectedItemIndex(static_cast<int>(policy), silent);
    mixing.setSelectedItemIndex(static_cast<int>(drill.fingering.mix), silent);
    mixing.setEnabled(policy == Policy::mixed || policy == Policy::bothSides);
}

void SetupPanel::showRules(const TempoRules& rules) {
    startBpm.setValue(rules.startBpm, silent);
    stepPerDay.setValue(rules.stepPerDay, silent);
    stepPerTake.setValue(rules.stepPerTake, silent);
    ceiling.setValue(rules.ceilingBpm, silent);
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
    config.rules.stepPerDay = stepPerDay.getValue();
    config.rules.stepPerTake = stepPerTake.getValue();
    config.rules.ceilingBpm = ceiling.getValue();
    // A new start lifts the ceiling; a ceiling that is set below the start stays so, to be refused.
    if (const double start = startBpm.getValue(); start != current.rules.startBpm)
        config.rules = withStart(config.rules, start);
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
    if (onChange)
        onChange(playedOn(catalogue()[static_cast<std::size_t>(index)], current));
}

} // namespace valveladder
