// Listens on a JACK server for tests by hand: to a program's sound and to the MIDI of its guide, both by the
// server's own count of frames. And plays along: each note of the guide's channel 1 as a tone.
//   valveladder_jack_ear
// Its ports are "ear:sound" and "ear:guide", and "ear:tone" for what it plays. Each line it says is
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
#include <numbers>
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

/// One player of a brass-like tone: slurs where a note follows at once. `rate` in Hz.
class Tone {
public:
    void start(int pitch, double rate) {
        constexpr double a4 = 440.0; // Hz, MIDI note 69 (MIDI 1.0, note numbers; ISO 16 pitch)
        step = 2.0 * std::numbers::pi * a4 * std::pow(2.0, (pitch - 69) / 12.0) / rate;
        playing = pitch;
        rise = 1.0 / (attackSeconds * rate);
    }
    void stop(int pitch) {
        if (pitch == playing) // a slur's old note ends after the new one has begun
            playing = -1;
    }
    [[nodiscard]] float next() {
        level = std::clamp(level + (playing >= 0 ? rise : -rise), 0.0, 1.0);
        phase = std::fmod(phase + step, 2.0 * std::numbers::pi);
        double sum = 0.0;
        for (int partial = 1; partial <= partials; ++partial)
            sum += std::sin(partial * phase) / partial;
        return static_cast<float>(loudness * level * sum);
    }

private:
    static constexpr double attackSeconds = 0.015, loudness = 0.2;
    static constexpr int partials = 8;
    int playing = -1;
    double step = 0.0, phase = 0.0, level = 0.0, rise = 0.0;
};

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
    void hearGuide(jack_nframes_t frames, jack_nframes_t first);
    void playUntil(jack_nframes_t sample);
    void keep(const Heard& heard);

    jack_client_t* client = nullptr;
    jack_port_t* sound = nullptr;
    jack_port_t* guide = nullptr;
    jack_port_t* tone = nullptr;
    Tone player;
    float* played = nullptr;        ///< the block that is being played
    jack_nframes_t playedUntil = 0; ///< in it
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
    tone = jack_port_register(client, "tone", JACK_DEFAULT_AUDIO_TYPE, JackPortIsOutput, 0);
    const auto process = [](jack_nframes_t frames, void* self) {
        static_cast<Ear*>(self)->hear(frames);
        return 0;
    };
    return sound != nullptr && guide != nullptr && tone != nullptr &&
           jack_set_process_callback(client, process, this) == 0 && jack_activate(client) == 0;
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

void Ear::playUntil(jack_nframes_t sample) {
    for (; playedUntil < sample; ++playedUntil)
        played[playedUntil] = player.next();
}

void Ear::hearGuide(jack_nframes_t frames, jack_nframes_t first) {
    played = static_cast<float*>(jack_port_get_buffer(tone, frames));
    playedUntil = 0;
    void* const midi = jack_port_get_buffer(guide, frames);
    for (std::uint32_t i = 0; i < jack_midi_get_event_count(midi); ++i) {
        jack_midi_event_t event{};
        if (jack_midi_event_get(&event, midi, i) != 0 || event.size != 3)
            continue;
        const unsigned kind = event.buffer[0] & 0xF0U;
        const int channel = (event.buffer[0] & 0x0F) + 1;
        const int pitch = event.buffer[1];
        const bool on = kind == 0x90U && event.buffer[2] > 0;
        if (on)
            keep(
                {.what = Heard::What::note, .frame = first + event.time, .channel = channel, .pitch = pitch});
        if (channel != 1 || (kind != 0x80U && kind != 0x90U))
            continue;
        playUntil(event.time);
        if (on)
            player.start(pitch, jack_get_sample_rate(client));
        else
            player.stop(pitch);
    }
    playUntil(frames);
}

void Ear::hear(jack_nframes_t frames) {
    const jack_nframes_t first = jack_last_frame_time(client);
    if (begun && first != next)
        keep({.what = Heard::What::lost, .frame = first});
    begun = true;
    next = first + frames;
    hearGuide(frames, first);
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
