#pragma once

#include "Session/SessionView.h"
#include "View/LookRound.h"

#include <filesystem>
#include <memory>
#include <optional>
#include <string>

namespace valveladder {

/// Whose takes are shown: the player's own, or for a while an invented player's. [message]
class ShownTakes {
public:
    /// `now`: when the window opened.
    ShownTakes(const std::filesystem::path& logPath, UtcMs now) : reader(logPath), openedUtc(now) {}

    /// Takes up the newest review of the player's own log; true where it is news.
    bool takeUp(std::shared_ptr<const Reviewed> review, const Instrument& instrument);

    void beginLookRound() { invented.emplace(); }
    void endLookRound() { invented.reset(); }
    [[nodiscard]] bool lookingRound() const { return invented.has_value(); }

    /// What is told over the player's own takes; null until it has been read.
    [[nodiscard]] const std::shared_ptr<const Overview>& own() const { return ownOverview; }
    /// The same of whoever is shown.
    [[nodiscard]] std::shared_ptr<const Overview> overview() const;
    /// A take of whoever is shown; null until it has been read.
    [[nodiscard]] std::shared_ptr<const LoadedTake> take(const std::string& id);
    /// The take has been changed in the player's own log.
    void readAgain(const std::string& id) { reader.readAgain(id); }

    /// True once for each of the player's own takes that was finished since the window opened, when nothing
    /// is played any more: its result is to be opened. `wanted`: results are to open by themselves.
    [[nodiscard]] bool resultDue(const SessionView& view, bool wanted);

    [[nodiscard]] std::string player(const SessionConfig& own) const;
    [[nodiscard]] const Instrument& instrument(const SessionConfig& own) const;
    /// The next tempo of whoever is shown.
    [[nodiscard]] double plannedBpm(const SessionView& view) const;

private:
    LogReader reader;
    std::shared_ptr<const Reviewed> reviewed; ///< what the overview was made from
    std::shared_ptr<const Overview> ownOverview;
    std::optional<LookRound> invented;
    UtcMs openedUtc;
    std::string resultSeen; ///< take whose result has been opened, or that was there before
    bool resultWaits = false;
};

} // namespace valveladder
