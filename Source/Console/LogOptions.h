#pragma once

#include "Console/Tool.h"
#include "Log/LogStore.h"
#include "Tempo/TempoPlan.h"

#include <memory>
#include <optional>
#include <string>

namespace valveladder::console {

/// Which log, and whose takes in it.
struct LogOptions {
    std::string file;                  ///< "" = defaultLogPath()
    std::optional<std::string> player; ///< unset = the only one that the log knows

    void addFile(CLI::App& app);
    void addPlayer(CLI::App& app);

    [[nodiscard]] std::filesystem::path path() const;
    /// The log that is there, for reading alone; a Problem where there is none yet.
    [[nodiscard]] Result<std::unique_ptr<LogStore>> openToRead() const;
    /// The log that is there, for reading and writing; a Problem where there is none yet.
    [[nodiscard]] Result<std::unique_ptr<LogStore>> openToChange() const;
    /// The log, made where there is none.
    [[nodiscard]] Result<std::unique_ptr<LogStore>> openOrMake() const;
    /// The player asked for, or the log's only one. `store` may be null: there is no log yet.
    [[nodiscard]] Result<std::string> whose(const LogStore* store) const;
};

/// The plan for a player's next take, from the log.
struct PlanFromLog {
    std::string player; ///< "" = nobody named, no log yet
    TempoRules rules;
    int takes = 0; ///< that it is made of
    PlannedTempo next;
};
/// `at`: what the plan was or will be then, from the takes before it; unset = now, from all takes.
/// `asked`: rules to use in place of the log's; `otherwise`: rules where the log holds none.
[[nodiscard]] Result<PlanFromLog> planFromLog(const LogOptions& options, const std::string& instrumentId,
                                              const std::string& drillName, std::optional<UtcMs> at,
                                              const std::optional<TempoRules>& asked = std::nullopt,
                                              const std::optional<TempoRules>& otherwise = std::nullopt);

/// "--bpm N", or else the plan's next tempo.
struct TempoOption {
    std::optional<double> bpm;
    LogOptions log;

    void add(CLI::App& app);
    /// The tempo; says on standard error where it came from when it was not given.
    /// `rules`: those of the drill's file, for a plan of which the log holds none.
    [[nodiscard]] Result<double> choose(Tool& tool, const std::string& instrumentId,
                                        const std::string& drillName,
                                        const std::optional<TempoRules>& rules) const;
};

} // namespace valveladder::console
