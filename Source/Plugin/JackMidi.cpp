#include "Plugin/JackMidi.h"

#if defined(__linux__) && __has_include(<jack/jack.h>)

#include <jack/jack.h>
#include <jack/midiport.h>
#include <juce_core/juce_core.h>

#include <algorithm>

namespace valveladder {

namespace {

/// JACK's functions, as its headers declare them, found at run time.
struct Library {
    juce::DynamicLibrary file;
    decltype(&jack_client_open) clientOpen = nullptr;
    decltype(&jack_client_close) clientClose = nullptr;
    decltype(&jack_port_register) portRegister = nullptr;
    decltype(&jack_set_process_callback) setProcess = nullptr;
    decltype(&jack_activate) activate = nullptr;
    decltype(&jack_deactivate) deactivate = nullptr;
    decltype(&jack_port_get_buffer) buffer = nullptr;
    decltype(&jack_midi_get_event_count) eventCount = nullptr;
    decltype(&jack_midi_event_get) eventGet = nullptr;
    decltype(&jack_midi_clear_buffer) clear = nullptr;
    decltype(&jack_midi_event_write) eventWrite = nullptr;
    decltype(&jack_last_frame_time) lastFrameTime = nullptr;

    [[nodiscard]] bool load() {
        return file.open("libjack.so.0") && find(clientOpen, "jack_client_open") &&
               find(clientClose, "jack_client_close") && find(portRegister, "jack_port_register") &&
               find(setProcess, "jack_set_process_callback") && find(activate, "jack_activate") &&
               find(deactivate, "jack_deactivate") && find(buffer, "jack_port_get_buffer") &&
               find(eventCount, "jack_midi_get_event_count") && find(eventGet, "jack_midi_event_get") &&
               find(clear, "jack_midi_clear_buffer") && find(eventWrite, "jack_midi_event_write") &&
               find(lastFrameTime, "jack_last_frame_time");
    }

private:
    template <typename Function>
    bool find(Function& function, const char* name) {
        function = reinterpret_cast<Function>(file.getFunction(name));
        return function != nullptr;
    }
};

} // namespace

struct JackMidi::Inside final : PortClock {
    explicit Inside(MidiPorts& queues) : ports(queues) {}

    MidiPorts& ports;
    Library jack;
    jack_client_t* client = nullptr;
    jack_port_t* player = nullptr;
    jack_port_t* guide = nullptr;
    std::atomic<jack_nframes_t> period{0};

    /// The sound is a JACK client of its own, and JACK runs the two in any order or at once.
    [[nodiscard]] PortBlock cycle() const noexcept override {
        return {jack.lastFrameTime(client), period.load(std::memory_order_relaxed)};
    }
    [[nodiscard]] bool begin(const std::string& name);
    void pass(jack_nframes_t frames);
    static int process(jack_nframes_t frames, void* self) {
        static_cast<Inside*>(self)->pass(frames);
        return 0;
    }
};

bool JackMidi::Inside::begin(const std::string& name) {
    if (!jack.load())
        return false;
    client = jack.clientOpen(name.c_str(), JackNoStartServer, nullptr);
    if (client == nullptr)
        return false;
    player = jack.portRegister(client, "player", JACK_DEFAULT_MIDI_TYPE, JackPortIsInput, 0);
    guide = jack.portRegister(client, "guide", JACK_DEFAULT_MIDI_TYPE, JackPortIsOutput, 0);
    return player != nullptr && guide != nullptr && jack.setProcess(client, &process, this) == 0 &&
           jack.activate(client) == 0;
}

void JackMidi::Inside::pass(jack_nframes_t frames) {
    period.store(frames, std::memory_order_relaxed);
    const PortBlock now = cycle();
    void* const from = jack.buffer(player, frames);
    const auto count = jack.eventCount(from);
    for (std::uint32_t i = 0; i < count; ++i) {
        jack_midi_event_t received{};
        if (jack.eventGet(&received, from, i) != 0 || received.size < 1 || received.size > 3)
            continue;
        MidiEvent event;
        event.sample = static_cast<int>(received.time);
        event.size = static_cast<std::uint8_t>(received.size);
        std::copy_n(received.buffer, received.size, event.bytes.begin());
        ports.in.put(now, event);
    }
    void* const to = jack.buffer(guide, frames);
    jack.clear(to);
    MidiEvent event;
    jack_nframes_t last = 0; // JACK takes events in order only
    while (ports.out.take(now, event)) {
        last = std::clamp(static_cast<jack_nframes_t>(event.sample), last, frames - 1);
        jack.eventWrite(to, last, event.bytes.data(), event.size);
    }
}

JackMidi::JackMidi(std::unique_ptr<Inside> parts) : inside(std::move(parts)) {
    inside->ports.clock.store(inside.get());
}

JackMidi::~JackMidi() {
    inside->ports.clock.store(nullptr);
    inside->jack.deactivate(inside->client);
    inside->jack.clientClose(inside->client);
}

std::unique_ptr<JackMidi> JackMidi::open(MidiPorts& ports, const std::string& clientName) {
    auto parts = std::make_unique<Inside>(ports);
    if (parts->begin(clientName))
        return std::unique_ptr<JackMidi>(new JackMidi(std::move(parts)));
    if (parts->client != nullptr)
        parts->jack.clientClose(parts->client);
    return nullptr;
}

} // namespace valveladder

#else

namespace valveladder {

struct JackMidi::Inside {};
JackMidi::JackMidi(std::unique_ptr<Inside> parts) : inside(std::move(parts)) {}
JackMidi::~JackMidi() = default;
std::unique_ptr<JackMidi> JackMidi::open(MidiPorts&, const std::string&) {
    return nullptr;
}

} // namespace valveladder

#endif
