#include "Plugin/Processor.h"

#include "Guide/OwnMessages.h"
#include "Plugin/HostAdapter.h"

#include <algorithm>
#include <fmt/format.h>
#include <string_view>

namespace valveladder {

namespace {

/// Short MIDI messages a block may bring; what exceeds it is lost and counted by the feed's own measure.
constexpr std::size_t heardCapacity = 4096;
/// Peak over which an input counts as connected: -60 dB of full scale, over the hum of an open input.
constexpr float leastSound = 0.001F;
/// How often pedals are looked after: their own time is exact, only what follows on screen waits.
constexpr int pedalsHz = 50;
/// Of the Take parameter, 0..1.
constexpr float pressedFrom = 0.5F, releasedTo = 0.375F;

bool atMostStereo(const juce::AudioChannelSet& set) {
    return set.isDisabled() || set == juce::AudioChannelSet::mono() || set == juce::AudioChannelSet::stereo();
}

} // namespace

void Processor::MarkCounter::parameterValueChanged(int, float value) {
    if (value >= pressedFrom && !pressed.exchange(true, std::memory_order_relaxed))
        rises.fetch_add(1, std::memory_order_relaxed);
    else if (value <= releasedTo)
        pressed.store(false, std::memory_order_relaxed);
}

Processor::Processor()
    : juce::AudioProcessor(BusesProperties()
                               .withInput(words::inputBus, juce::AudioChannelSet::stereo(), true)
                               .withOutput(words::outputBus, juce::AudioChannelSet::stereo(), true)),
      parameters(*this), worker(path, defaultLogPath()) {
    heard.reserve(heardCapacity);
    const juce::String host = juce::PluginHostType::getHostPath();
    if (host.containsIgnoreCase("ardour") || host.containsIgnoreCase("mixbus"))
        sparsePosition.expectQuartersBehindPoint();
    parameters.takeMark->addListener(&markCounter);
}

Processor::~Processor() {
    leaveTimer();
    pedalTimer->stopTimer();
    juce::MessageManager::callAsync([timer = std::move(pedalTimer)] {});
    cancelPendingUpdate();
    parameters.takeMark->removeListener(&markCounter);
}

bool Processor::isBusesLayoutSupported(const BusesLayout& layouts) const {
    return atMostStereo(layouts.getMainInputChannelSet()) && atMostStereo(layouts.getMainOutputChannelSet());
}

void Processor::prepareToPlay(double sampleRate, int) {
    path.clicks.stop();
    kept.setRate(sampleRate);
    pedalTimer->startTimerHz(pedalsHz);
    startedWorker().setDevice(device());
    if (wrapperType == wrapperType_Standalone)
        triggerAsyncUpdate(); // its device has a name only once its window stands
}

void Processor::PedalTimer::leave() {
    const std::lock_guard lock(mutex);
    owner = nullptr;
}

void Processor::PedalTimer::timerCallback() {
    const std::lock_guard lock(mutex);
    if (owner != nullptr)
        owner->servePedals();
}

void Processor::handleAsyncUpdate() {
    worker.setDevice(device());
}

void Processor::useSoundDevices(SoundDevices* devices) {
    ownDevices = devices;
    if (devices != nullptr)
        triggerAsyncUpdate();
}

std::string Processor::device() const {
    std::string name = ownDevices != nullptr ? ownDevices->name() : "";
    if (name.empty())
        name = wrapperType == wrapperType_Standalone ? "standalone"
                                                     : juce::PluginHostType().getHostDescription();
    return fmt::format("{}, {:.0f} Hz, {} samples", name, getSampleRate(), getBlockSize());
}

Result<Done> Processor::measureRoundTrip() {
    if (getTotalNumInputChannels() == 0 || getTotalNumOutputChannels() == 0)
        return Problem{words::noInputOrOutput, words::roundTrip,
                       wrapperType == wrapperType_Standalone ? words::chooseBoth : words::giveBoth};
    Worker& started = startedWorker();
    started.setDevice(device());
    return started.measureRoundTrip();
}

void Processor::releaseResources() {
    worker.closeTake();
}

Worker& Processor::startedWorker() {
    const std::lock_guard lock(setupMutex);
    worker.start(config());
    return worker;
}

SessionConfig Processor::config() const {
    const std::lock_guard lock(configMutex);
    return inUse;
}

Result<Done> Processor::setConfig(SessionConfig config) {
    const std::lock_guard setup(setupMutex);
    auto taken = worker.configure(config);
    if (taken) {
        usePedals(config.pedals);
        const std::lock_guard lock(configMutex);
        inUse = std::move(config);
    }
    return taken;
}

void Processor::getStateInformation(juce::MemoryBlock& destination) {
    const std::string text = toStateText({config(), parameters.values()});
    destination.replaceAll(text.data(), text.size());
}

void Processor::setStateInformation(const void* data, int sizeInBytes) {
    const auto size = static_cast<std::size_t>(std::max(0, sizeInBytes));
    auto state = stateFromText({static_cast<const char*>(data), data == nullptr ? 0 : size});
    if (!state) {
        worker.note(state.problem().text(), true);
        return;
    }
    if (auto taken = setConfig(state.value().config); !taken) {
        worker.note(taken.problem().text(), true);
        return;
    }
    parameters.set(state.value().parameters);
}

void Processor::useJackMidi() {
    if (!jackMidi)
        jackMidi = JackMidi::open(ports, getName().toStdString() + " MIDI");
}

/// What came beside the host's buffer, sorted in.
void Processor::receivePorts(int samples) noexcept {
    const auto now = ports.cycle();
    if (!now)
        return;
    MidiEvent event;
    while (heard.size() < heardCapacity && ports.in.take(*now, event)) {
        event.sample = std::clamp(event.sample, 0, std::max(0, samples - 1));
        const auto after =
            std::upper_bound(heard.begin(), heard.end(), event,
                             [](const MidiEvent& a, const MidiEvent& b) { return a.sample < b.sample; });
        heard.insert(after, event); // within the reserved room
        notice(event);
    }
}

void Processor::sendPorts(std::span<const MidiEvent> events) noexcept {
    const auto now = ports.cycle();
    if (!now)
        return;
    for (const MidiEvent& event : events)
        ports.out.put(*now, event);
}

void Processor::receive(const juce::MidiBuffer& midi, int samples) noexcept {
    heard.clear();
    for (const auto message : midi) {
        if (message.numBytes < 1 || message.numBytes > 3 || heard.size() == heardCapacity)
            continue;
        MidiEvent event;
        event.sample = message.samplePosition;
        event.size = static_cast<std::uint8_t>(message.numBytes);
        std::copy_n(message.data, message.numBytes, event.bytes.begin());
        heard.push_back(event);
        notice(event);
    }
    receivePorts(samples);
}

void Processor::usePedals(const Pedals& pedals) noexcept {
    startNote.store(pedals.start.note, std::memory_order_relaxed);
    startController.store(pedals.start.controller, std::memory_order_relaxed);
    repeatNote.store(pedals.repeat.note, std::memory_order_relaxed);
    repeatController.store(pedals.repeat.controller, std::memory_order_relaxed);
}

void Processor::notice(const MidiEvent& event) noexcept {
    if (!presses.press(event) || isClick(event, guideSent))
        return;
    noticePress(event);
    noticePedals(event);
}

void Processor::noticePedals(const MidiEvent& event) noexcept {
    const auto sends = [&event](const std::atomic<int>& note, const std::atomic<int>& controller) {
        return Pedal{note.load(std::memory_order_relaxed), controller.load(std::memory_order_relaxed)}.sends(
            event);
    };
    if (sends(startNote, startController))
        startPedals.fetch_add(1, std::memory_order_relaxed);
    if (sends(repeatNote, repeatController)) {
        repeats.fetch_add(1, std::memory_order_relaxed);
        repeatPedals.fetch_add(1, std::memory_order_relaxed);
    }
}

bool Processor::othersClockRolls() const noexcept {
    const ClockView& now = path.clock;
    return now.playing.load() && now.clock.load() != Clock::own;
}

void Processor::pressStart() {
    const auto way = static_cast<TakeWay>(parameters.takeWay->getIndex());
    const bool starts = !othersClockRolls() && !parameters.runOwnClock->get();
    if (!othersClockRolls())
        *parameters.runOwnClock = starts;
    if (!starts && !othersClockRolls())
        return;
    if (way == TakeWay::hand)
        pressTake();
    else if (way == TakeWay::marker)
        markCounter.rises.fetch_add(1, std::memory_order_relaxed);
}

bool Processor::pressRepeat() {
    if (othersClockRolls())
        return false;
    repeats.fetch_add(1, std::memory_order_relaxed);
    *parameters.runOwnClock = true;
    return true;
}

void Processor::stopBehindTheDrill() {
    const ClockView& now = path.clock;
    if (parameters.repeat->get() || !parameters.runOwnClock->get() || !now.playing.load() ||
        now.clock.load() != Clock::own)
        return;
    const auto view = worker.view();
    if (view == nullptr)
        return;
    const double quarters = quartersOf(view->setup->score().length);
    if (now.ppq.load() >= now.startPpq.load() + quarters)
        *parameters.runOwnClock = false;
}

void Processor::servePedals() {
    stopBehindTheDrill();
    const std::uint32_t starts = startPedals.load(std::memory_order_relaxed);
    if (startPedalsDone != starts)
        pressStart();
    startPedalsDone = starts;
    const std::uint32_t again = repeatPedals.load(std::memory_order_relaxed);
    if (repeatPedalsDone == again)
        return;
    repeatPedalsDone = again;
    if (!othersClockRolls())
        *parameters.runOwnClock = true;
    else
        worker.note(words::cannotRepeat, false);
}

void Processor::noticePress(const MidiEvent& event) noexcept {
    const bool controller = event.isController();
    const std::uint32_t count = (pressed.load(std::memory_order_relaxed) >> 8U) + 1U;
    pressed.store(count << 8U | (controller ? 0x80U : 0U) | event.bytes[1], std::memory_order_relaxed);
    heardAnything.store(true, std::memory_order_relaxed);
}

void Processor::noticeSound(const juce::AudioBuffer<float>& audio) noexcept {
    if (heardAnything.load(std::memory_order_relaxed) || getTotalNumInputChannels() == 0)
        return;
    if (audio.getMagnitude(0, 0, audio.getNumSamples()) > leastSound)
        heardAnything.store(true, std::memory_order_relaxed);
}

Processor::Pressed Processor::lastPressed() const noexcept {
    const std::uint32_t packed = pressed.load(std::memory_order_relaxed);
    return {packed >> 8U, static_cast<int>(packed & 0x7FU), (packed & 0x80U) != 0};
}

HostBlock Processor::readHost(int samples, bool bypassed) noexcept {
    const bool reports = wrapperType == wrapperType_LV2;
    HostBlock block = hostBlock(reports ? nullptr : getPlayHead(), getSampleRate(), samples);
    block.bypassed = bypassed;
    block.offline = isNonRealtime();
    if (!reports)
        return playedTempo.complete(block);
    block = sparsePosition.complete(block, timeReports);
    timeReports = {};
    return block;
}

void Processor::process(juce::AudioBuffer<float>& audio, juce::MidiBuffer& midi, bool bypassed) noexcept {
    const juce::ScopedNoDenormals noDenormals;
    AudioPath::Input input;
    input.controls = parameters.read();
    guideSent = input.controls.guide;
    receive(midi, audio.getNumSamples());
    noticeSound(audio);
    ear.push(audio.getArrayOfReadPointers(), getTotalNumInputChannels(), audio.getNumSamples());
    input.host = readHost(audio.getNumSamples(), bypassed);
    input.recordingUnknown = wrapperType == wrapperType_LV2; // its time extension has no such field
    input.positionAssumed = wrapperType == wrapperType_LV2 && sparsePosition.assumed();
    input.waitForWorker = input.host.offline && worker.running();
    input.midi = heard;
    input.sound = {audio.getArrayOfReadPointers(), getTotalNumInputChannels(), audio.getNumSamples()};
    input.marks = markCounter.rises.load(std::memory_order_relaxed);
    input.handPresses = handPresses.load(std::memory_order_relaxed);
    input.repeats = repeats.load(std::memory_order_relaxed);
    const auto guide = path.process(input);
    midiOut.put(guide, midi);
    sendPorts(guide);
    // In the Standalone nothing of the microphone goes to the output, so that no loudspeaker can howl.
    const bool through = wrapperType != wrapperType_Standalone;
    for (int channel = through ? getTotalNumInputChannels() : 0; channel < getTotalNumOutputChannels();
         ++channel)
        audio.clear(channel, 0, audio.getNumSamples());
    path.sound.render(audio.getArrayOfWritePointers(), getTotalNumOutputChannels(), audio.getNumSamples());
    path.clicks.render(audio.getArrayOfWritePointers(), getTotalNumOutputChannels(), audio.getNumSamples());
    kept.render(audio.getArrayOfWritePointers(), getTotalNumOutputChannels(), audio.getNumSamples(),
                path.freeForOtherSound());
}

void Processor::processBlock(juce::AudioBuffer<float>& audio, juce::MidiBuffer& midi) noexcept {
    process(audio, midi, false);
}

void Processor::processBlockBypassed(juce::AudioBuffer<float>& audio, juce::MidiBuffer& midi) noexcept {
    process(audio, midi, true);
}

} // namespace valveladder
