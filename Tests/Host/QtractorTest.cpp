// The built LV2 in Qtractor (package qtractor), inserted by a session file, on a display and a JACK server of
// their own. What it sends is written down by the tests' own LV2 behind it (see Tap), as Qtractor records
// MIDI through ALSA's sequencer alone, which not every kernel has.

#include "Host/Ardour.h"
#include "Host/Program.h"
#include "Host/SentGuide.h"
#include "Host/SongMap.h"
#include "Host/Tapped.h"
#include "Host/TempLog.h"

#include <gtest/gtest.h>

#include <jack/jack.h>
#include <jack/transport.h>

#include <unistd.h>

#include <cmath>
#include <cstdlib>
#include <fmt/format.h>
#include <fstream>
#include <optional>

namespace valveladder::host {

namespace {

namespace fs = std::filesystem;

constexpr int rate = 48000;
constexpr double lastQuarter = 30.0;

/// Leads JACK's transport.
class Transport {
public:
    explicit Transport(const std::string& server) {
        until([&] {
            client =
                jack_client_open("leader", static_cast<jack_options_t>(JackNoStartServer | JackServerName),
                                 nullptr, server.c_str());
            return client != nullptr;
        });
        if (client != nullptr)
            jack_activate(client);
    }
    ~Transport() {
        if (client != nullptr)
            jack_client_close(client);
    }
    Transport(const Transport&) = delete;
    Transport& operator=(const Transport&) = delete;

    [[nodiscard]] bool ready() const { return client != nullptr; }
    /// Whether a program of that name takes part.
    [[nodiscard]] bool has(const std::string& program) const {
        const std::unique_ptr<const char*, void (*)(const char**)> found(
            reinterpret_cast<const char**>(jack_get_ports(client, (program + ":.*").c_str(), nullptr, 0)),
            [](const char** list) { jack_free(static_cast<void*>(list)); });
        return found != nullptr;
    }
    /// Rolls from the start, and stops.
    bool rollTo(std::int64_t frame) {
        // Without having been sent there it rolls for a while before it tells plugins where.
        jack_transport_locate(client, 0);
        const jack_nframes_t located = jack_frame_time(client);
        until([&] { return jack_frame_time(client) - located > rate; });
        jack_transport_start(client);
        const bool there = until([&] { return at() >= frame; }, 300);
        jack_transport_stop(client);
        return there && until([&] { return jack_transport_query(client, nullptr) == JackTransportStopped; });
    }

private:
    [[nodiscard]] std::int64_t at() const {
        jack_position_t position;
        (void)jack_transport_query(client, &position);
        return position.frame;
    }

    jack_client_t* client = nullptr;
};

struct Case {
    const char* name;
    std::vector<SongMap::Tempo> tempos;
    std::vector<SongMap::Meter> meters;
    int block = 256;
};

void PrintTo(const Case& session, std::ostream* out) {
    *out << session.name;
}

/// A session in Qtractor's own form: a MIDI track with the plugin, and the tap behind it.
std::string sessionText(const fs::path& folder, const SongMap& song) {
    const auto plugin = [](const std::string& uri) {
        return "<plugin type=\"LV2\"><filename>" + uri +
               "</filename><index>0</index><label></label><activated>1</activated></plugin>";
    };
    std::string nodes;
    for (const SongMap::Tempo& tempo : song.tempos()) {
        const SongMap::BarBeat place = song.barAt(tempo.quarter);
        nodes += fmt::format("<tempo-node bar=\"{}\" frame=\"{}\"><tempo>{}</tempo><beat-type>2</beat-type>"
                             "<beats-per-bar>{}</beats-per-bar><beat-divisor>{}</beat-divisor></tempo-node>",
                             place.bar, std::llround(song.secondsAt(tempo.quarter) * rate), tempo.bpm,
                             place.meter.beats, std::lround(std::log2(place.meter.unit)));
    }
    return fmt::format(
        "<!DOCTYPE qtractorSession><session name=\"guide\" version=\"0.9.31\"><properties>"
        "<directory>{}</directory><sample-rate>{}</sample-rate><tempo>{}</tempo>"
        "<ticks-per-beat>960</ticks-per-beat><beats-per-bar>{}</beats-per-bar><beat-divisor>{}</beat-divisor>"
        "</properties><tempo-map>{}</tempo-map><devices><audio-engine><audio-bus mode=\"duplex\" "
        "name=\"Master\">"
        "<channels>2</channels></audio-bus></audio-engine><midi-engine><midi-bus mode=\"duplex\" "
        "name=\"Master\">"
        "</midi-bus></midi-engine></devices><tracks><track name=\"Guide\" type=\"midi\"><properties>"
        "<input-bus>Master</input-bus><output-bus>Master</output-bus><midi-omni>1</midi-omni>"
        "<midi-channel>0</midi-channel></properties><state><monitor>1</monitor><gain>1</gain></"
        "state><plugins>"
        "{}{}</plugins></track></tracks></session>",
        folder.string(), rate, song.tempos().front().bpm, song.meters().front().beats,
        std::lround(std::log2(song.meters().front().unit)), nodes, plugin("urn:valveladder:valve-ladder"),
        plugin(tapUri));
}

const std::vector<SongMap::Meter> fourFour{{0.0, 4, 4}};

std::vector<Case> cases() {
    return {
        {"OneTempo", {{0.0, 132.0}}, fourFour},
        {"TempoSteps", {{0.0, 120.0}, {8.0, 197.0}, {16.0, 123.5}, {24.0, 232.0}}, fourFour},
    };
}

class QtractorHost : public testing::TestWithParam<Case> {
protected:
    void SetUp() override {
        if (std::getenv("VALVE_LADDER_FULL") == nullptr)
            GTEST_SKIP() << "in the full size only (VALVE_LADDER_FULL=1): see FIGURES.md, Hosts";
        for (const char* program : {"jackd", "Xvfb", "qtractor"})
            if (!installed(program))
                GTEST_SKIP() << program << " is not installed: Qtractor was not tried";
        if (!fs::exists(builtPlugin(Format::lv2)))
            GTEST_SKIP() << "this build has no LV2";
        server = fmt::format("valve-ladder-q{}", getpid());
        // In freewheel Qtractor runs no plugins. In synchronous mode a cycle waits for every program: nothing
        // depends on how busy the machine is.
        jack.emplace(std::vector<std::string>{"jackd", "-r", "-S", "-n", server, "-d", "dummy", "-r",
                                              std::to_string(rate), "-p", std::to_string(GetParam().block)},
                     temp.folder() / "jack.txt");
        transport.emplace(server);
        ASSERT_TRUE(transport->ready()) << readText(temp.folder() / "jack.txt");
        ASSERT_TRUE(openDisplay()) << readText(temp.folder() / "display.txt");
        std::ofstream(temp.folder() / "guide.qtr") << sessionText(temp.folder(), song);
        qtractor.emplace(std::vector<std::string>{"qtractor", (temp.folder() / "guide.qtr").string()}, said(),
                         environment());
        ASSERT_TRUE(until([&] { return transport->has("Qtractor") || !qtractor->runs(); }));
        ASSERT_TRUE(until([&] { return fs::exists(temp.log()) || !qtractor->runs(); }))
            << "the plugin was not made: " << readText(said());
    }

    void TearDown() override {
        qtractor.reset();
        transport.reset();
        display.reset();
        jack.reset();
    }

    /// The server takes the first free number and tells it.
    bool openDisplay() {
        const fs::path number = temp.folder() / "display-number.txt";
        display.emplace(
            std::vector<std::string>{"sh", "-c",
                                     "exec Xvfb -displayfd 3 -screen 0 1280x900x24 -nolisten tcp 3> '" +
                                         number.string() + "'"},
            temp.folder() / "display.txt");
        return until([&] { return readText(number).find('\n') != std::string::npos || !display->runs(); }) &&
               display->runs();
    }

    [[nodiscard]] fs::path said() const { return temp.folder() / "qtractor.txt"; }

    [[nodiscard]] std::vector<std::string> environment() const {
        std::string number = readText(temp.folder() / "display-number.txt");
        number.erase(number.find('\n'));
        const std::string home = temp.folder().string();
        return {"HOME=" + home,
                "XDG_CONFIG_HOME=" + home + "/config",
                "XDG_RUNTIME_DIR=" + home,
                "DISPLAY=:" + number,
                "QT_QPA_PLATFORM=xcb",
                "JACK_DEFAULT_SERVER=" + server,
                "JACK_NO_AUDIO_RESERVATION=1",
                "LD_PRELOAD=" VALVE_LADDER_NO_SEQUENCER,
                "LV2_PATH=" + builtPlugin(Format::lv2).parent_path().string() + ":" + tapFolder().string(),
                "VALVE_LADDER_TAPPED=" + tapped.string()};
    }

    void expectScore() const {
        const SentGuide sent = expectGuideSent(tapped, song, rate, lastQuarter,
                                               [this](double quarter) { return allowedMs(quarter); });
        EXPECT_GE(sent.notes, 15);
        std::printf("%d notes, furthest %.3f ms\n", sent.notes, sent.furthestMs);
    }

    /// Two samples; and behind each step of the tempo what it makes of a block, since beats alone are told.
    [[nodiscard]] double allowedMs(double quarter) const {
        double quarters = 0.0;
        for (const SongMap::Tempo& step : song.tempos())
            if (step.quarter > 0.0 && step.quarter <= quarter)
                quarters +=
                    std::abs(step.bpm - song.bpmAt(step.quarter - 1.0e-6)) / 60.0 * GetParam().block / rate;
        return 60000.0 / song.bpmAt(quarter) * quarters + 2000.0 / rate;
    }

    SongMap song{GetParam().tempos, GetParam().meters};
    TempLog temp;
    fs::path tapped = temp.folder() / "tapped.txt";
    std::string server;
    std::optional<Program> jack, display, qtractor;
    std::optional<Transport> transport;
};

} // namespace

TEST_P(QtractorHost, InsertedByASessionFileItPlaysTheScore) {
    ASSERT_TRUE(transport->rollTo(std::llround(song.secondsAt(lastQuarter) * rate)));
    ASSERT_TRUE(qtractor->end()) << "ended by a fault: " << readText(said());
    expectScore();
}

INSTANTIATE_TEST_SUITE_P(HostMatrixQtractor, QtractorHost, testing::ValuesIn(cases()),
                         [](const auto& made) { return std::string(made.param.name) + "Lv2"; });

} // namespace valveladder::host
