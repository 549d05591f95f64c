#include "Demo/DemoSession.h"

#include "Base/Path.h"
#include "Base/System.h"
#include "Base/SystemClock.h"
#include "Demo/DemoFindings.h"
#include "Demo/DemoHost.h"
#include "Engraving/SheetContents.h"
#include "Files/GuideFile.h"
#include "Invented/InventedPlayer.h"
#include "Invented/InventedSound.h"
#include "Log/LogStore.h"
#include "Log/LoggedPlan.h"
#include "Paper/SheetPrinter.h"
#include "Plugin/State.h"
#include "Reports/TakePicture.h"
#include "Words/SessionWords.h"
#include "Words/TempoWords.h"

#include <array>
#include <chrono>
#include <cstdlib>
#include <fmt/format.h>
#include <fstream>
#include <thread>

namespace valveladder {

namespace {

constexpr const char* playerName = "Invented demo player";
/// A take is judged and written by another thread; on a busy machine that takes a while.
constexpr std::chrono::seconds longestWait{60};
constexpr double quartersAfterLastNote = 1.0;

/// This one, counted from 0, is heard by sound instead of MIDI.
constexpr int takeBySound = 4;

/// How the takes go, in turn: uneven at first, a bad one in the middle, better at the end.
constexpr std::array<DemoForm, 6> forms{{
    {14.0, -12.0, 35.0, 2, 1},
    {9.0, -12.0, 28.0, 0, 0},
    {8.0, -11.0, 25.0, 0, 0},
    {16.0, -9.0, 40.0, 3, 2},
    {8.0, -10.0, 22.0, 0, 0},
    {7.0, -10.0, 20.0, 0, 0},
}};

SessionConfig demoConfig() {
    SessionConfig config;
    config.player = playerName;
    config.invented = true;
    config.rules.startBpm = 72.0;
    config.rules.stepPerTake = 2.0;
    config.roundTripMs = 0.0; // this host is all inside
    config.keepSound.on = true;
    return config;
}

TakeFilter demoFilter(const SessionConfig& config) {
    return planFilter(config.player, config.instrument.id, config.drill.name, config.invented);
}

/// One run of the demo. The log is read through a store of its own, as any other program would.
class Demo {
public:
    Demo(const DemoOptions& wanted, std::unique_ptr<DemoHost> loaded, std::unique_ptr<LogStore> store)
        : options(wanted), host(std::move(loaded)), log(std::move(store)), player(wanted.seed) {}

    Result<DemoReport> run();

private:
    Result<Done> take(int number);
    Result<std::string> newTake(std::size_t before);
    Result<PlannedTempo> plan();
    Result<Done> writeFiles(const DemoReport& report);
    [[nodiscard]] Result<Done> writeText(const char* name, const std::string& content) const;
    [[nodiscard]] Result<Done> writePictures(const Review& review, double nextBpm) const;

    const DemoOptions options;
    const SessionConfig config = demoConfig();
    std::unique_ptr<DemoHost> host;
    std::unique_ptr<LogStore> log;
    InventedPlayer player;
    std::vector<TakeRecord> takes;
    std::vector<Score> scores;
};

Result<PlannedTempo> Demo::plan() {
    auto history = log->planTakes(demoFilter(config));
    if (!history)
        return history.problem();
    return nextTempo(config.rules, history.value(), systemUtcMs());
}

Result<std::string> Demo::newTake(std::size_t before) {
    const auto until = std::chrono::steady_clock::now() + longestWait;
    while (std::chrono::steady_clock::now() < until) {
        auto found = log->takes(demoFilter(config));
        if (!found)
            return found.problem();
        if (found.value().size() > before)
            return found.value().back().header.id;
        std::this_thread::sleep_for(std::chrono::milliseconds(20));
    }
    return Problem{"the plugin wrote no take into the log", pathText(log->path()),
                   "look at its messages by loading it in a host"};
}

Result<Done> Demo::take(int number) {
    auto before = log->takes(demoFilter(config));
    if (!before)
        return before.problem();
    auto planned = plan();
    if (!planned)
        return planned.problem();
    const double bpm = planned.value().bpm;
    auto score = buildScore(config.drill, config.instrument, bpm);
    if (!score)
        return score.problem();
    scores.push_back(score.value());
    const DemoForm& form = forms[static_cast<std::size_t>(number) % forms.size()];
    const double quarters = quartersOf(score.value().spans.back().end) + quartersAfterLastNote;
    const auto played = player.play(score.value(), bpm, form);
    const bool bySound = number == takeBySound;
    const int guideNotes =
        bySound ? host->recordTake(bpm, quarters, {}, inventedSound(played, bpm, DemoHost::sampleRate))
                : host->recordTake(bpm, quarters, played);
    if (guideNotes < static_cast<int>(score.value().notes.size()))
        return Problem{
            fmt::format("the plugin sent {} of {} guide notes", guideNotes, score.value().notes.size()),
            pathText(options.plugin), "build it again"};
    auto id = newTake(before.value().size());
    if (!id)
        return id.problem();
    auto record = log->take(id.value());
    if (!record)
        return record.problem();
    takes.push_back(std::move(record.value()));
    return Done{};
}

Result<Done> Demo::writeFiles(const DemoReport& report) {
    const GuideSettings settings;
    auto planned = buildScore(config.drill, config.instrument, report.next.bpm);
    if (!planned)
        return planned.problem();
    std::vector<SessionTake> session;
    for (std::size_t i = 0; i < takes.size(); ++i)
        session.push_back({&scores[i], takes[i].header.plannedBpm});
    const auto& folder = options.folder;
    const SmfFile files[] = {guideFile(planned.value(), report.next.bpm, settings, config.drill.name),
                             sessionFile(session, settings, config.drill.name, true),
                             sessionFile(session, settings, config.drill.name, false)};
    const char* names[] = {"guide.mid", "tempo-map.mid", "session.mid"};
    for (std::size_t i = 0; i < std::size(files); ++i)
        if (auto written = writeSmfFile(folder / names[i], files[i]); !written)
            return written.problem();
    return writeText("report.txt", reportText(report));
}

Result<Done> Demo::writeText(const char* name, const std::string& content) const {
    const auto path = options.folder / name;
    std::ofstream text(path, std::ios::binary);
    text << content;
    text.close();
    if (!text)
        return Problem{"the file could not be written", pathText(path),
                       "see that the folder is writable and the disk not full"};
    return Done{};
}

/// Things to look at: the last take drawn, the drill printed, the findings.
Result<Done> Demo::writePictures(const Review& review, double nextBpm) const {
    const TakeRecord& last = takes.back();
    const PictureText text{config.drill.name + ", an invented take",
                           fmt::format("{} at {} bpm", config.player, words::tempoText(last.playedBpm))};
    if (auto done =
            writeText("take.svg", takePicture(last.performance, scores.back(), config.instrument, text));
        !done)
        return done;
    auto score = buildScore(config.drill, config.instrument, nextBpm);
    if (!score)
        return score.problem();
    const auto content = drillContent(score.value(), config.drill, config.instrument, nextBpm);
    if (!content)
        return content.problem();
    const Paper paper = Paper::a4();
    const auto sheet = pdfPages(printedPages(content.value(), paper), paper, content.value().title);
    if (!sheet)
        return sheet.problem();
    if (auto done = writeText("practice-sheet.pdf", sheet.value()); !done)
        return done;
    return writeText("findings.txt", findingsText(review));
}

Result<DemoReport> Demo::run() {
    host->setState(toStateText({config, {}}));
    for (int number = 0; number < options.takes; ++number) {
        if (auto played = take(number); !played)
            return played.problem();
        const TakeRecord& last = takes.back();
        fmt::print("take {} of {}: {} bpm, {}\n", number + 1, options.takes, words::tempoText(last.playedBpm),
                   words::verdict(last.state == TakeState::whole, last.passed, last.performance.measured()));
    }
    auto next = plan();
    if (!next)
        return next.problem();
    auto review = reviewOfDemo(*log, config, systemUtcMs());
    if (!review)
        return review.problem();
    DemoReport report{host->name(), config.player, options.seed,           config.instrument.thumbValve,
                      takes,        next.value(),  foundBy(review.value())};
    if (auto written = writeFiles(report); !written)
        return written.problem();
    if (auto written = writePictures(review.value(), report.next.bpm); !written)
        return written.problem();
    return report;
}

/// The plugin finds the log by the environment, as it would in any host.
void nameLog(const std::filesystem::path& path) {
    setEnvironment("VALVE_LADDER_LOG", pathText(path));
}

} // namespace

Result<DemoReport> playDemo(const DemoOptions& options) {
    std::error_code trouble;
    std::filesystem::create_directories(options.folder, trouble);
    if (trouble)
        return Problem{"the folder could not be made: " + trouble.message(), pathText(options.folder),
                       "choose another with --out"};
    const auto logPath = std::filesystem::absolute(options.folder) / "log.sqlite";
    nameLog(logPath);
    auto store = LogStore::open(logPath);
    if (!store)
        return store.problem();
    auto host = DemoHost::load(options.plugin);
    if (!host)
        return host.problem();
    return Demo(options, std::move(host.value()), std::move(store.value())).run();
}

} // namespace valveladder
