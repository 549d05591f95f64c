// Listens on a JACK server for tests by hand: to a program's sound and to the MIDI of its guide, both by the
// server's own count of frames.
//   valveladder_jack_ear
// Its ports are "ear:sound" and "ear:guide". Each line it says is
//   sound FRAME               sound begins, after a sample of digital silence
//   peak FRAME PEAK           it was followed by silence, and was so loud: 1 is full scale
//   note FRAME CHANNEL PITCH  a note-on, CHANNEL 1 to 16
//   lost FRAME                it missed what came before this frame
// It ends when it is told to.

#include <jack/jack.h>
#include <jack/midiport.h>
#include <jack/ringbuffer.h>

#include <algorithm>
#include <atomic>
#include <chrono>
#include <cmath>
#include <csignal>
#include <cstdint>
#include <cstdio>
#include <thread>
#include <utility>

namespace {

struct Heard {
    enum class What : std::uint8_t { sound, peak, note, lost };
    What what = What::sound;
    jack_nframes_t frame = 0;
    float peak = 0.0F;
    int channel = 1;
    int pitch = 0;
};

constexpr std::size_t mostWaiting = std::size_t{1} << 14U;

std::atomic<bool> asked{false};

class Ear {
public:
    [[nodiscard]] bool open();
    /// Says what has come since the last call.
    void say();
    ~Ear();
    Ear() = default;
    Ear(const Ear&) = delete;
    Ear& operator=(const Ear&) = delete;

private:
    void hear(jack_nframes_t frames);
    void keep(const Heard& heard);

    jack_client_t* client = nullptr;
    jack_port_t* sound = nullptr;
    jack_port_t* guide = nullptr;
    jack_ringbuffer_t* queue = nullptr;
    jack_nframes_t next = 0; ///< frame that the block should begin with
    bool begun = false;
    bool silent = true; ///< the last sample was
    float peak = 0.0F;  ///< since it was not
};

bool Ear::open() {
    queue = jack_ringbuffer_create(mostWaiting * sizeof(Heard));
    client = jack_client_open("ear", JackNoStartServer, nullptr);
    if (client == nullptr || queue == nullptr)
        return false;
    sound = jack_port_register(client, "sound", JACK_DEFAULT_AUDIO_TYPE, JackPortIsInput, 0);
    guide = jack_port_register(client, "guide", JACK_DEFAULT_MIDI_TYPE, JackPortIsInput, 0);
    const auto process = [](jack_nframes_t frames, void* self) {
        static_cast<Ear*>(self)->hear(frames);
        return 0;
    };
    return sound != nullptr && guide != nullptr && jack_set_process_callback(client, process, this) == 0 &&
           jack_activate(client) == 0;
}

Ear::~Ear() {
    if (client != nullptr)
        jack_client_close(client);
    if (queue != nullptr)
        jack_ringbuffer_free(queue);
}

void Ear::keep(const Heard& heard) {
    if (jack_ringbuffer_write_space(queue) >= sizeof(Heard))
        jack_ringbuffer_write(queue, reinterpret_cast<const char*>(&heard), sizeof(Heard));
}

void Ear::hear(jack_nframes_t frames) {
    const jack_nframes_t first = jack_last_frame_time(client);
    if (begun && first != next)
        keep({.what = Heard::What::lost, .frame = first});
    begun = true;
    next = first + frames;
    void* const midi = jack_port_get_buffer(guide, frames);
    for (std::uint32_t i = 0; i < jack_midi_get_event_count(midi); ++i) {
        jack_midi_event_t event{};
        if (jack_midi_event_get(&event, midi, i) == 0 && event.size == 3 &&
            (event.buffer[0] & 0xF0U) == 0x90U && event.buffer[2] > 0)
            keep({.what = Heard::What::note,
                  .frame = first + event.time,
                  .channel = (event.buffer[0] & 0x0F) + 1,
                  .pitch = event.buffer[1]});
    }
    const auto* samples = static_cast<const float*>(jack_port_get_buffer(sound, frames));
    for (jack_nframes_t i = 0; i < frames; ++i) {
        const bool quiet = samples[i] == 0.0F;
        if (silent && !quiet)
            keep({.what = Heard::What::sound, .frame = first + i});
        if (!silent && quiet)
            keep({.what = Heard::What::peak, .frame = first + i, .peak = std::exchange(peak, 0.0F)});
        peak = std::max(peak, std::abs(samples[i]));
        silent = quiet;
    }
}

void Ear::say() {
    Heard heard;
    while (jack_ringbuffer_read_space(queue) >= sizeof(Heard)) {
        jack_ringbuffer_read(queue, reinterpret_cast<char*>(&heard), sizeof(Heard));
        switch (heard.what) {
        case Heard::What::sound:
            std::printf("sound %u\n", heard.frame);
            break;
        case Heard::What::peak:
            std::printf("peak %u %.4f\n", heard.frame, static_cast<double>(heard.peak));
            break;
        case Heard::What::note:
            std::printf("note %u %d %d\n", heard.frame, heard.channel, heard.pitch);
            break;
        case Heard::What::lost:
            std::printf("lost %u\n", heard.frame);
            break;
        }
    }
    std::fflush(stdout);
}

} // namespace

int main() {
    for (const int signal : {SIGTERM, SIGINT})
        std::signal(signal, [](int) { asked.store(true); });
    Ear ear;
    if (!ear.open()) {
        std::fputs("no JACK server\n", stderr);
        return 1;
    }
    while (!asked.load()) {
        ear.say();
        std::this_thread::sleep_for(std::chrono::milliseconds(20));
    }
    ear.say();
    return 0;
}
