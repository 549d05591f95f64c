// The built LV2 in jalv (package jalv), on a JACK server of its own without a sound device (package jackd2):
// this test leads JACK's transport with bars and beats of a tempo map, and hears what jalv sends.

#include "Host/Ardour.h"
#include "Host/DefaultScore.h"
#include "Host/ExpectedGuide.h"
#include "Host/SongMap.h"
#include "Host/TempLog.h"

#include <gtest/gtest.h>

#include <jack/jack.h>
#include <jack/midiport.h>
#include <jack/transport.h>

#include <csignal>
#include <fcntl.h>
#include <spawn.h>
#include <sys/wait.h>
#include <unistd.h>

#include <array>
#include <atomic>
#include <chrono>
#include <cmath>
#include <cstdlib>
#include <fmt/format.h>
#include <functional>
#include <memory>
#include <thread>

extern char** environ;

namespace valveladder::host {

namespace {

/// A program that runs beside the test; ended with it.
class Program {
public:
    Program(const std::vector<std::string>& words, const std::filesystem::path& output) {
        int ends[2] = {-1, -1};
        if (pipe2(ends, O_CLOEXEC) != 0)
            return;
        input = ends[1];
        posix_spawn_file_actions_t files;
        posix_spawn_file_actions_init(&files);
        posix_spawn_file_actions_adddup2(&files, ends[0], 0);
        posix_spawn_file_actions_addopen(&files, 1, output.c_str(), O_WRONLY | O_CREAT | O_TRUNC, 0600);
        posix_spawn_file_actions_adddup2(&files, 1, 2);
        std::vector<char*> arguments;
        for (const std::string& word : words)
            arguments.push_back(const_cast<char*>(word.c_str()));
        arguments.push_back(nullptr);
        if (posix_spawnp(&id, arguments[0], &files, nullptr, arguments.data(), environ) != 0)
            id = -1;
        posix_spawn_file_actions_destroy(&files);
        close(ends[0]);
    }
    ~Program() {
        if (input >= 0)
            close(input);
        if (id <= 0)
            return;
        kill(id, SIGTERM);
        for (int i = 0; i < 500 && waitpid(id, nullptr, WNOHANG) == 0; ++i)
            std::this_thread::sleep_for(std::chrono::milliseconds(10));
        kill(id, SIGKILL);
        waitpid(id, nullptr, 0);
    }
    Program(const Program&) = delete;
    Program& operator=(const Program&) = delete;
    [[nodiscard]] bool runs() const { return id > 0 && waitpid(id, nullptr, WNOHANG) == 0; }

private:
    pid_t id = -1;
    int input = -1; ///< what it reads from; stays open
};

bool until(const std::function<bool()>& reached, int seconds = 60) {
    const auto end = std::chrono::steady_clock::now() + std::chrono::seconds(seconds);
    while (!reached()) {
        if (std::chrono::steady_clock::now() > end)
            return false;
        std::this_thread::sleep_for(std::chrono::milliseconds(5));
    }
    return true;
}

/// Leads the transport, and keeps what comes in by the frame of the transport.
class Leader {
public:
    Leader(const SongMap& given, const std::string& server) : song(given) {
        until([&] {
            client =
                jack_client_open("leader", static_cast<jack_options_t>(JackNoStartServer | JackServerName),
                                 nullptr, server.c_str());
            return client != nullptr;
        });
        if (client == nullptr)
            return;
        rate = jack_get_sample_rate(client);
        port = jack_port_register(client, "in", JACK_DEFAULT_MIDI_TYPE, JackPortIsInput, 0);
        messages.reserve(20000);
        jack_set_process_callback(
            client, [](jack_nframes_t n, void* self) { return static_cast<Leader*>(self)->process(n); },
            this);
        jack_set_timebase_callback(
            client, 0,
            [](jack_transport_state_t, jack_nframes_t, jack_position_t* position, int, void* self) {
                static_cast<Leader*>(self)->tell(*position);
            },
            this);
        jack_activate(client);
    }
    ~Leader() {
        if (client != nullptr)
            jack_client_close(client);
    }

    [[nodiscard]] bool ready() const { return client != nullptr; }
    bool connect(const std::string& other) {
        return until([&] {
            std::unique_ptr<const char*, void (*)(const char**)> ports(
                reinterpret_cast<const char**>(
                    jack_get_ports(client, other.c_str(), JACK_DEFAULT_MIDI_TYPE, JackPortIsOutput)),
                [](const char** list) { jack_free(static_cast<void*>(list)); });
            return ports != nullptr && jack_connect(client, *ports, jack_port_name(port)) == 0;
        });
    }
    void standAt(double quarter) {
        const auto frame = static_cast<jack_nframes_t>(std::llround(song.secondsAt(quarter) * rate));
        jack_transport_locate(client, frame);
        until([&] { return at == frame; });
    }
    bool rollTo(double quarter) {
        const auto end = static_cast<jack_nframes_t>(std::llround(song.secondsAt(quarter) * rate));
        jack_transport_start(client);
        const bool reached = until([&] { return at >= end; }, 300);
        jack_transport_stop(client);
        until([&] { return !rolling; });
        return reached;
    }
    /// Since the last call; `sample` is the transport's frame.
    std::vector<Sent> heard() { return std::exchange(messages, {}); }
    [[nodiscard]] double sampleRate() const { return rate; }

private:
    int process(jack_nframes_t samples) {
        jack_position_t position;
        const bool rolls = jack_transport_query(client, &position) == JackTransportRolling;
        void* buffer = jack_port_get_buffer(port, samples);
        jack_midi_event_t event;
        for (std::uint32_t i = 0; rolls && jack_midi_event_get(&event, buffer, i) == 0; ++i) {
            Sent message;
            message.sample = static_cast<std::int64_t>(position.frame) + event.time;
            message.event.size = static_cast<std::uint8_t>(std::min<std::size_t>(event.size, 3));
            std::copy_n(event.buffer, message.event.size, message.event.bytes.begin());
            messages.push_back(message);
        }
        at = position.frame;
        rolling = rolls;
        return 0;
    }
    void tell(jack_position_t& position) const {
        constexpr double ticks = 1920.0;
        const SongMap::BarBeat place = song.barAt(song.quarterAt(position.frame / rate));
        const double beat = std::floor(place.beat);
        position.valid = JackPositionBBT;
        position.bar = static_cast<std::int32_t>(place.bar) + 1;
        position.beat = static_cast<std::int32_t>(beat) + 1;
        position.tick = static_cast<std::int32_t>(std::floor((place.beat - beat) * ticks));
        position.bar_start_tick = 0.0;
        position.beats_per_bar = static_cast<float>(place.meter.beats);
        position.beat_type = static_cast<float>(place.meter.unit);
        position.ticks_per_beat = ticks;
        position.beats_per_minute =
            song.bpmAt(song.quarterAt(position.frame / rate)) * place.meter.unit / 4.0;
    }

    const SongMap& song;
    jack_client_t* client = nullptr;
    jack_port_t* port = nullptr;
    double rate = 48000.0;
    std::vector<Sent> messages;
    std::atomic<jack_nframes_t> at{0};
    std::atomic<bool> rolling{false};
};

class JalvHost : public testing::TestWithParam<int> {
protected:
    void SetUp() override {
        // JACK works against the clock: on a busy machine it drops cycles, and what comes late is not the
        // guide's.
        if (std::getenv("VALVE_LADDER_FULL") == nullptr)
            GTEST_SKIP() << "in the full size only (VALVE_LADDER_FULL=1), on a quiet machine";
        for (const char* program : {"jackd", "jalv"})
            if (!installed(program))
                GTEST_SKIP() << program << " is not installed: jalv was not tried";
        if (!std::filesystem::exists(builtPlugin(Format::lv2)))
            GTEST_SKIP() << "this build has no LV2";
        server = fmt::format("valve-ladder-{}", getpid());
        setEnvironment("JACK_DEFAULT_SERVER", server);
        setEnvironment("JACK_NO_AUDIO_RESERVATION", "1");
        setEnvironment("LV2_PATH", builtPlugin(Format::lv2).parent_path().string());
    }
    void TearDown() override {
        setEnvironment("JACK_DEFAULT_SERVER", "");
        setEnvironment("LV2_PATH", "");
    }

    TempLog temp;
    std::string server;
};

} // namespace

TEST_P(JalvHost, GuideIsTheScoreThroughTemposAndMeters) {
    const SongMap song({{0.0, 150.0}, {6.0, 200.0}, {20.0, 180.0}, {27.0, 210.0}},
                       {{0.0, 3, 4}, {12.0, 4, 4}, {20.0, 7, 8}, {27.0, 4, 4}});
    const Program jack(
        {"jackd", "-r", "-n", server, "-d", "dummy", "-r", "48000", "-p", std::to_string(GetParam())},
        temp.folder() / "jack.txt");
    Leader leader(song, server);
    ASSERT_TRUE(leader.ready()) << readText(temp.folder() / "jack.txt");
    const Program jalv({"jalv", "-n", "guide", "urn:valveladder:valve-ladder"}, temp.folder() / "jalv.txt");
    ASSERT_TRUE(leader.connect("guide:.*out.*")) << readText(temp.folder() / "jalv.txt");
    leader.standAt(0.0);
    (void)leader.heard();
    for (const auto& [from, to] : {std::pair{0.0, 36.0}, {21.5, 31.0}}) {
        SCOPED_TRACE(from);
        leader.standAt(from);
        ASSERT_TRUE(leader.rollTo(to));
        ASSERT_TRUE(jalv.runs()) << readText(temp.folder() / "jalv.txt");
        const auto notes = sentNotes(leader.heard(), 1);
        std::size_t next = 0;
        for (const ScoreNote& note : defaultScore().notes) {
            const double onset = static_cast<double>(note.onset) / ticksPerQuarter;
            if (onset < from || onset > to - 0.5)
                continue;
            ASSERT_LT(next, notes.size());
            EXPECT_EQ(notes[next].pitch, note.sounding) << "quarter " << onset;
            const double off =
                static_cast<double>(notes[next].on) - song.secondsAt(onset) * leader.sampleRate();
            // JACK's ticks are a 1920th of a beat, and behind a step in a block its tempo is not known.
            const double block = GetParam() * 0.34;
            const double tick = 60.0 / song.bpmAt(onset) / 1920.0 * leader.sampleRate();
            const bool behindStep =
                std::any_of(song.tempos().begin(), song.tempos().end(), [&](const auto& step) {
                    const double since =
                        (song.secondsAt(onset) - song.secondsAt(step.quarter)) * leader.sampleRate();
                    return since >= 0.0 && since < GetParam();
                });
            EXPECT_LE(std::abs(off), tick + 2.0 + (behindStep ? block : 0.0)) << "quarter " << onset;
            ++next;
        }
        EXPECT_GT(next, 5U);
    }
}

INSTANTIATE_TEST_SUITE_P(HostMatrix, JalvHost, testing::Values(64, 1024),
                         [](const auto& made) { return fmt::format("Jalv{}Samples", made.param); });

} // namespace valveladder::host
