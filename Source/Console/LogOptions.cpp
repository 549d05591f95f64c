#include "Console/LogOptions.h"

#include "Base/Path.h"
#include "Base/Sentence.h"
#include "Base/System.h"
#include "Base/SystemClock.h"
#include "Console/Options.h"
#include "Console/TimeText.h"
#include "Log/LoggedPlan.h"
#include "Words/PlanWords.h"
#include "Words/TempoWords.h"

namespace valveladder::console {

namespace {

/// At a prompt it is better to wait for others who write than to lose a take. ms
constexpr int patienceMs = 10000;

std::optional<Problem> missingLog(const std::filesystem::path& path) {
    std::error_code error;
    if (std::filesystem::exists(path, error))
        return std::nullopt;
    return Problem{"there is no log yet", pathText(path),
                   "Keep a take first ('valve-ladder assess ... --keep'), or name another log with --log"};
}

/// What a log holds for one plan.
struct Kept {
    std::string player;
    TempoRules rules;
    std::vector<PlanTake> takes;
};

Result<std::vector<PlanTake>> planTakes(const LogStore& store, const std::string& player,
                                        const std::string& instrumentId, const std::string& drillName,
                                        std::optional<UtcMs> before) {
    const auto read = [&](bool invented) {
        TakeFilter filter = planFilter(player, instrumentId, drillName, invented);
        filter.toUtc = before;
        return store.planTakes(filter);
    };
    return realBeforeInvented(read, [](const std::vector<PlanTake>& takes) { return takes.empty(); });
}

Result<Kept> readKept(const LogOptions& options, const std::string& instrumentId,
                      const std::string& drillName, std::optional<UtcMs> before,
                      const std::optional<TempoRules>& otherwise) {
    auto store = options.openToRead();
    if (!store)
        return store.problem();
    auto player = options.whose(store.value().get());
    if (!player)
        return player.problem();
    auto rules = planRules(*store.value(), player.value(), instrumentId, drillName, otherwise);
    if (!rules)
        return rules.problem();
    auto takes = planTakes(*store.value(), player.value(), instrumentId, drillName, before);
    if (!takes)
        return takes.problem();
    return Kept{std::move(player.value()), std::move(rules.value()), std::move(takes.value())};
}

} // namespace

void LogOptions::addFile(CLI::App& app) {
    app.add_option("--log", file, "The log file (VALVE_LADDER_LOG, or the one the plugin keeps)")
        ->option_text("FILE");
}

void LogOptions::addPlayer(CLI::App& app) {
    app.add_option("-p,--player", player, "Who played (VALVE_LADDER_PLAYER, or the only player of the log)")
        ->option_text("NAME");
    // Not by the parser's own way, which on Windows reads the system's code page.
    if (auto named = environment("VALVE_LADDER_PLAYER"); named && !trimmed(*named).empty())
        player = std::move(named);
}

std::filesystem::path LogOptions::path() const {
    return file.empty() ? defaultLogPath() : pathOf(file);
}

Result<std::unique_ptr<LogStore>> LogOptions::openToRead() const {
    if (auto missing = missingLog(path()))
        return *missing;
    return LogStore::openReadOnly(path(), patienceMs);
}

Result<std::unique_ptr<LogStore>> LogOptions::openToChange() const {
    if (auto missing = missingLog(path()))
        return *missing;
    return LogStore::open(path(), patienceMs);
}

Result<std::unique_ptr<LogStore>> LogOptions::openOrMake() const {
    return LogStore::open(path(), patienceMs);
}

Result<std::string> LogOptions::whose(const LogStore* store) const {
    if (player)
        return *player;
    auto players = store != nullptr ? store->players() : std::vector<std::string>();
    if (!players)
        return players.problem();
    if (players.value().size() == 1)
        return players.value().front();
    if (players.value().empty())
        return std::string();
    return Problem{"the log holds takes of several players: " + joined(players.value()), pathText(path()),
                   "Say whose with --player"};
}

Result<PlanFromLog> planFromLog(const LogOptions& options, const std::string& instrumentId,
                                const std::string& drillName, std::optional<UtcMs> at,
                                const std::optional<TempoRules>& asked,
                                const std::optional<TempoRules>& otherwise) {
    Kept kept{options.player.value_or(""), otherwise.value_or(TempoRules{}), {}};
    std::error_code error;
    if (std::filesystem::exists(options.path(), error)) {
        auto read = readKept(options, instrumentId, drillName, at, otherwise);
        if (!read)
            return read.problem();
        kept = std::move(read.value());
    }
    PlanFromLog plan;
    plan.player = std::move(kept.player);
    plan.rules = asked ? *asked : std::move(kept.rules);
    plan.takes = static_cast<int>(kept.takes.size());
    plan.next = nextTempo(plan.rules, std::move(kept.takes), at.value_or(systemUtcMs()));
    return plan;
}

void TempoOption::add(CLI::App& app) {
    addNumber(app, "--bpm", bpm, "Tempo in quarters a minute; without it, the plan's next tempo")
        ->option_text("BPM");
    log.addFile(app);
    log.addPlayer(app);
}

Result<double> TempoOption::choose(Tool& tool, const std::string& instrumentId, const std::string& drillName,
                                   const std::optional<TempoRules>& rules) const {
    if (bpm)
        return *bpm;
    auto plan = planFromLog(log, instrumentId, drillName, std::nullopt, std::nullopt, rules);
    if (!plan)
        return plan.problem();
    tool.warn(fmt::format("{} bpm by the plan. {}", words::tempoText(plan.value().next.bpm),
                          inWords(plan.value().next)));
    return plan.value().next.bpm;
}

} // namespace valveladder::console
