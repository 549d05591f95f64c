#pragma once

#include "Host/TempLog.h"
#include "Log/LogStore.h"
#include "Session/SessionView.h"
#include "View/LogReader.h"
#include "View/Overview.h"

namespace valveladder::pictures {

/// A log of invented practice that is the same each time: a player of a four-valved flugelhorn on twelve days
/// of three weeks whose third finger presses slowly, at tempos that rise by two a day. In a folder of its
/// own, gone after the test.
class InventedLog {
public:
    InventedLog();

    [[nodiscard]] const LogStore& log() const { return *store; }
    [[nodiscard]] const std::filesystem::path& folder() const { return place.folder(); }
    [[nodiscard]] const Instrument& instrument() const;
    [[nodiscard]] std::string newestTake() const { return newest; }
    /// What is asked of it: a next session at 82 bpm of the default drill.
    [[nodiscard]] ReviewRequest request() const;
    [[nodiscard]] std::shared_ptr<const Overview> overview() const;

    static constexpr const char* player = "Invented player";

private:
    host::TempLog place;
    std::unique_ptr<LogStore> store;
    std::string newest;
};

/// The newest take, changed so that each thing that can be told of a note is told in its first segment, and
/// no two of one note but of its twelfth.
[[nodiscard]] std::shared_ptr<const LoadedTake> takeWithEverySign(const InventedLog& invented);

/// What a session shows while it runs: own clock, 66 bpm, no trouble.
[[nodiscard]] SessionView runningView(const std::string& instrumentId);

} // namespace valveladder::pictures
