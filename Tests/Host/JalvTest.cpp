// The built LV2 in jalv (package jalv), on a JACK server of its own without a sound device (package jackd2):
// this test leads JACK's transport with bars and beats of a tempo map, and hears what jalv sends.

#include "Host/Ardour.h"
#include "Host/DefaultScore.h"
#include "Host/ExpectedGuide.h"
#include "Host/Program.h"
#include "Host/SongMap.h"
#include "Host/TempLog.h"

#include <gtest/gtest.h>

#include <jack/jack.h>
#include <jack/midiport.h>
#include <jack/transport.h>

#include <unistd.h>

#include <array>
#include <atomic>
#include <cmath>
#include <cstdlib>
#include <fmt/format.h>
#include <iostream>
#include <memory>
#include <mutex>
#include <optional>

namespace valveladder::host {

namespace {

/// Leads the transport, and keeps what comes in by the frame of the transport.
class Leader {
public:
    /// A stretch that rolled without a break.
    struct Stretch {
        std::int64_t from = 0, to = 0;           ///< frames
        std::vector<std::vector<Sent>> messages; ///< of each port; `sample` is the frame
    };

    Leader(const SongMap& given, const std::string& server, int portCount) : song(given) {
        until([&] {
            client =
                jack_client_open("leader", static_cast<jack_options_t>(JackNoStartServer | JackServerName),
                                 nullptr, server.c_str());
            return client != nullptr;
        });
        if (client == nullptr)
            return;
        rate = jack_get_sample_rate(client);
        for (int i = 1; i <= portCount; ++i)
            ports.push_back(jack_port_register(client, fmt::format("in{}", i).c_str(), JACK_DEFAULT_MIDI_TYPE,
                                               JackPortIsInput, 0));
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
        if (client == nullptr)
            return;
        jack_set_freewheel(client, 0);
        jack_client_close(client);
    }
    Leader(const Leader&) = delete;
    Leader& operator=(const Leader&) = delete;

    [[nodiscard]] bool ready() const { return client != nullptr; }
    /// To the port of that number, from 0.
    bool connect(const std::string& other, std::size_t port) {
        return until([&] {
            std::unique_ptr<const char*, void (*)(const char**)> found(
                reinterpret_cast<const char**>(
                    jack_get_ports(client, other.c_str(), JACK_DEFAULT_MIDI_TYPE, JackPortIsOutput)),
                [](const char** list) { jack_free(static_cast<void*>(list)); });
            return found != nullptr && jack_connect(client, *found, jack_port_name(ports[port])) == 0;
        });
    }
    /// Cycles come as fast as all programs are done with them, and none is dropped: nothing depends on how
    /// busy the machine is.
    bool freewheel() { return jack_set_freewheel(client, 1) == 0 && passCycles(); }
    bool standAt(double quarter) {
        const auto frame = frameOf(quarter);
        jack_transport_locate(client, static_cast<jack_nframes_t>(frame));
        return until([&] { return at == frame && !rolling; }) && passCycles();
    }
    bool rollTo(double quarter) { return roll({0, frameOf(quarter), 0}); }
    /// Rolls through the loop so often, turning at the first cycle that reaches its end.
    bool loop(double from, double to, int passes) {
        return standAt(from) && roll({frameOf(from), frameOf(to), passes - 1});
    }
    /// Since the last call.
    std::vector<Stretch> heard() {
        const std::lock_guard lock(mutex);
        return std::exchange(stretches, {});
    }
    [[nodiscard]] double sampleRate() const { return rate; }

private:
    struct Plan {
        std::int64_t start = 0, end = 0;
        int turns = 0;
    };

    [[nodiscard]] std::int64_t frameOf(double quarter) const {
        return std::llround(song.secondsAt(quarter) * rate);
    }
    bool roll(const Plan& wanted) {
        {
            const std::lock_guard lock(mutex);
            plan = wanted;
            turnedIn = stretches.size();
        }
        jack_transport_start(client);
        const auto done = [&] {
            const std::lock_guard lock(mutex);
            return !plan;
        };
        return until(done, 300) && until([&] { return !rolling; }) && passCycles();
    }
    /// So many that every program has taken part since.
    bool passCycles() {
        const std::uint64_t before = cycles;
        return until([&] { return cycles >= before + 200; });
    }

    int process(jack_nframes_t samples) {
        jack_position_t position;
        const bool rolls = jack_transport_query(client, &position) == JackTransportRolling;
        const auto frame = static_cast<std::int64_t>(position.frame);
        if (rolls) {
            const std::lock_guard lock(mutex);
            if (!rolling || frame != at + static_cast<std::int64_t>(samplesBefore))
                stretches.push_back({frame, frame, std::vector<std::vector<Sent>>(ports.size())});
            keep(stretches.back(), frame, samples);
            if (plan && frame + static_cast<std::int64_t>(samples) >= plan->end)
                turnOrStop();
        }
        at = frame;
        samplesBefore = samples;
        rolling = rolls;
        ++cycles;
        return 0;
    }
    void keep(Stretch& stretch, std::int64_t frame, jack_nframes_t samples) {
        stretch.to = frame + static_cast<std::int64_t>(samples);
        for (std::size_t port = 0; port < ports.size(); ++port) {
            void* buffer = jack_port_get_buffer(ports[port], samples);
            jack_midi_event_t event;
            for (std::uint32_t i = 0; jack_midi_event_get(&event, buffer, i) == 0; ++i) {
                Sent message;
                message.sample = frame + event.time;
                message.event.size = static_cast<std::uint8_t>(std::min<std::size_t>(event.size, 3));
                std::copy_n(event.buffer, message.event.size, message.event.bytes.begin());
                stretch.messages[port].push_back(message);
            }
        }
    }
    void turnOrStop() {
        if (plan->turns == 0) {
            plan.reset();
            jack_transport_stop(client);
        } else if (stretches.size() != turnedIn) {
            --plan->turns;
            turnedIn = stretches.size();
            jack_transport_locate(client, static_cast<jack_nframes_t>(plan->start));
        }
    }
    void tell(jack_position_t& position) const {
        constexpr double ticks = 1920.0;
        const double quarter = song.quarterAt(position.frame / rate);
        const SongMap::BarBeat place = song.barAt(quarter);
        const double beat = std::floor(place.beat);
        position.valid = JackPositionBBT;
        position.bar = static_cast<std::int32_t>(place.bar) + 1;
        position.beat = static_cast<std::int32_t>(beat) + 1;
        position.tick = static_cast<std::int32_t>(std::floor((place.beat - beat) * ticks));
        position.bar_start_tick = 0.0;
        position.beats_per_bar = static_cast<float>(place.meter.beats);
        position.beat_type = static_cast<float>(place.meter.unit);
        position.ticks_per_beat = ticks;
        position.beats_per_minute = song.bpmAt(quarter) * place.meter.unit / 4.0;
    }

    const SongMap& song;
    jack_client_t* client = nullptr;
    std::vector<jack_port_t*> ports;
    double rate = 48000.0;
    std::mutex mutex; ///< of what follows
    std::vector<Stretch> stretches;
    std::optional<Plan> plan;
    std::size_t turnedIn = 0; ///< number of stretches when the transport was sent back last
    jack_nframes_t samplesBefore = 0;
    std::atomic<std::int64_t> at{0};
    std::atomic<std::uint64_t> cycles{0};
    std::atomic<bool> rolling{false};
};

struct Case {
    const char* name;
    std::vector<SongMap::Tempo> tempos;
    std::vector<SongMap::Meter> meters;
    std::vector<std::pair<double, double>> passes; ///< quarters
    int rate = 48000;
    int block = 256;
    int instances = 1;
    bool always = false; ///< else in the full size only
};

void PrintTo(const Case& session, std::ostream* out) {
    *out << session.name;
}

const std::vector<SongMap::Tempo> stepped{{0.0, 120.0}, {7.5, 197.0}, {16.0, 123.5}, {24.0, 232.0}};
const std::vector<SongMap::Tempo> oneTempo{{0.0, 180.0}};
const std::vector<SongMap::Tempo> eighths{{0.0, 150.0}, {6.0, 200.0}, {20.0, 180.0}, {27.0, 210.0}};
const std::vector<SongMap::Tempo> ramped{{0.0, 120.0}, {6.0, 120.0, 1.0, true}, {22.0, 220.0}};
const std::vector<SongMap::Meter> fourFour{{0.0, 4, 4}};
const std::vector<SongMap::Meter> changing{{0.0, 3, 4}, {12.0, 4, 4}, {20.0, 7, 8}, {27.0, 4, 4}};

std::vector<Case> cases() {
    return {
        {"TempoSteps", stepped, fourFour, {{0, 30}, {25.25, 31}, {9, 14}}, 48000, 256},
        {"TempoStepsSmallBlocks", stepped, fourFour, {{0, 30}, {17.5, 28}}, 44100, 64, 1, true},
        {"MetersOfOneTempo", oneTempo, changing, {{29, 36}, {0, 34}, {21, 30}}, 48000, 512},
        {"TempoAndMeters", eighths, changing, {{0, 36}, {21.5, 31}}, 48000, 1024, 1, true},
        {"TempoAndMetersSmallBlocks", eighths, changing, {{0, 36}, {21.5, 31}}, 96000, 128},
        {"TrueRamp", ramped, fourFour, {{0, 32}, {12, 24}}, 48000, 256},
        {"SeveralInstances", eighths, changing, {{0, 24}}, 48000, 512, 4},
        {"LargeBlocks", eighths, changing, {{0, 34}}, 48000, 8192},
        {"SmallestBlocks", eighths, fourFour, {{0, 24}, {9.5, 16}}, 44100, 16},
        {"HighestRate", stepped, changing, {{0, 34}}, 192000, 2048},
    };
}

class JalvHost : public testing::TestWithParam<Case> {
protected:
    void SetUp() override {
        for (const char* program : {"jackd", "jalv"})
            if (!installed(program))
                GTEST_SKIP() << program << " is not installed: jalv was not tried";
        if (!std::filesystem::exists(builtPlugin(Format::lv2)))
            GTEST_SKIP() << "this build has no LV2";
        if (!GetParam().always && std::getenv("VALVE_LADDER_FULL") == nullptr)
            GTEST_SKIP() << "in the full size only (VALVE_LADDER_FULL=1)";
        server = fmt::format("valve-ladder-{}", getpid());
        setEnvironment("JACK_DEFAULT_SERVER", server);
        setEnvironment("JACK_NO_AUDIO_RESERVATION", "1");
        setEnvironment("LV2_PATH", builtPlugin(Format::lv2).parent_path().string());
        jack.emplace(std::vector<std::string>{"jackd", "-r", "-n", server, "-d", "dummy", "-r",
                                              std::to_string(GetParam().rate), "-p",
                                              std::to_string(GetParam().block)},
                     temp.folder() / "jack.txt");
        leader.emplace(song, server, GetParam().instances);
        ASSERT_TRUE(leader->ready()) << readText(temp.folder() / "jack.txt");
        for (int i = 1; i <= GetParam().instances; ++i) {
            const auto said = temp.folder() / fmt::format("jalv{}.txt", i);
            plugins.push_back(
                std::make_unique<Program>(std::vector<std::string>{"jalv", "-n", fmt::format("guide{}", i),
                                                                   "urn:valveladder:valve-ladder"},
                                          said, sanitizerEnvironment()));
            ASSERT_TRUE(leader->connect(fmt::format("guide{}:.*out.*", i), static_cast<std::size_t>(i - 1)))
                << readText(said);
        }
        ASSERT_TRUE(leader->freewheel());
        ASSERT_TRUE(leader->standAt(0.0));
        (void)leader->heard();
    }
    void TearDown() override {
        leader.reset();
        plugins.clear();
        for (int i = 1; HasFailure() && i <= GetParam().instances; ++i)
            std::cout << readText(temp.folder() / fmt::format("jalv{}.txt", i)) << "\n";
        jack.reset();
        setEnvironment("JACK_DEFAULT_SERVER", "");
        setEnvironment("LV2_PATH", "");
    }

    /// JACK's ticks are a 1920th of a beat, and behind a step in a block, and on a ramp, its tempo is that of
    /// the block's beginning.
    [[nodiscard]] double allowed(double quarter) const {
        const double rate = leader->sampleRate();
        double samples = 60.0 / song.bpmAt(quarter) / 1920.0 * rate + 2.0;
        for (std::size_t i = 1; i < song.tempos().size(); ++i) {
            const double step = song.tempos()[i].quarter;
            const double since = (song.secondsAt(quarter) - song.secondsAt(step)) * rate;
            const double before = song.bpmAt(step - 1.0e-6);
            if (since >= 0.0 && since < GetParam().block)
                samples += since * std::max(std::abs(song.bpmAt(quarter) / before - 1.0),
                                            std::abs(before / song.bpmAt(quarter) - 1.0));
        }
        return samples + (song.tempoAt(quarter).ramp ? 0.001 * rate : 0.0);
    }

    void expectScore(const Leader::Stretch& stretch, double& furthest, int& compared) const {
        for (const auto& messages : stretch.messages) {
            const auto notes = sentNotes(messages, 1);
            std::size_t next = 0;
            for (const ScoreNote& note : defaultScore().notes) {
                const double onset = static_cast<double>(note.onset) / ticksPerQuarter;
                const double due = song.secondsAt(onset) * leader->sampleRate();
                if (due < static_cast<double>(stretch.from) - 0.5 ||
                    due > static_cast<double>(stretch.to) - allowed(onset))
                    continue;
                while (next < notes.size() && notes[next].on < 0)
                    ++next; // the end of a note of the stretch before
                ASSERT_LT(next, notes.size()) << "quarter " << onset;
                SCOPED_TRACE(fmt::format("note {} at quarter {}", next, onset));
                EXPECT_EQ(notes[next].pitch, note.sounding);
                const double off = static_cast<double>(notes[next].on) - due;
                EXPECT_LE(std::abs(off), allowed(onset));
                furthest = std::max(furthest, 1000.0 * std::abs(off) / leader->sampleRate());
                ++next;
                ++compared;
            }
            EXPECT_LE(notes.size(), next + 1) << "a note may have begun at the very end";
        }
    }

    SongMap song{GetParam().tempos, GetParam().meters};
    TempLog temp;
    std::string server;
    std::optional<Program> jack;
    std::optional<Leader> leader;
    std::vector<std::unique_ptr<Program>> plugins;
};

} // namespace

TEST_P(JalvHost, GuideIsTheScoreInEveryPassAndLoop) {
    double furthest = 0.0;
    int compared = 0;
    for (const auto& [from, to] : GetParam().passes) {
        SCOPED_TRACE(fmt::format("from quarter {} to {}", from, to));
        ASSERT_TRUE(leader->standAt(from));
        ASSERT_TRUE(leader->rollTo(to));
        const auto heard = leader->heard();
        ASSERT_EQ(heard.size(), 1U);
        ASSERT_NO_FATAL_FAILURE(expectScore(heard.front(), furthest, compared));
    }
    ASSERT_TRUE(leader->loop(14.0, 15.0, 9)) << "loops of one beat";
    const auto loops = leader->heard();
    EXPECT_GE(loops.size(), 8U); // the stop may come before the last turn is heard
    for (const auto& pass : loops)
        ASSERT_NO_FATAL_FAILURE(expectScore(pass, furthest, compared));
    EXPECT_GE(compared, 8);
    for (std::size_t i = 0; i < plugins.size(); ++i)
        EXPECT_TRUE(plugins[i]->runs()) << readText(temp.folder() / fmt::format("jalv{}.txt", i + 1));
    RecordProperty("furthest_ms", fmt::format("{:.3f}", furthest));
    std::printf("%d notes, furthest %.3f ms\n", compared, furthest);
}

INSTANTIATE_TEST_SUITE_P(HostMatrixJalv, JalvHost, testing::ValuesIn(cases()),
                         [](const auto& made) { return fmt::format("{}Lv2", made.param.name); });

} // namespace valveladder::host
