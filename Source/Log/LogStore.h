#pragma once

#include "Base/Problem.h"
#include "Records/TakeRecord.h"

#include <filesystem>
#include <functional>
#include <memory>
#include <optional>
#include <string>
#include <vector>

namespace valveladder {

/// Where the log lies: VALVE_LADDER_LOG, else the user's data folder ($XDG_DATA_HOME or ~/.local/share on
/// Linux, ~/Library/Application Support on macOS, %APPDATA% on Windows) + "/Valve Ladder/log.sqlite".
[[nodiscard]] std::filesystem::path defaultLogPath();

/// Which takes a query wants; unset fields do not restrict.
struct TakeFilter {
    std::optional<std::string> player{};
    std::optional<std::string> instrumentId{};
    std::optional<std::string> drillName{};
    std::optional<UtcMs> fromUtc{}; ///< inclusive
    std::optional<UtcMs> toUtc{};   ///< exclusive
    bool withInvented = true;
    bool withReal = true;
    int newest = 0;              ///< only the newest n, 0 = all
    std::int64_t fromNumber = 0; ///< only takes of this number or a later one (see newestNumber), 0 = all
};

struct MergeCount {
    int added = 0;
    int known = 0;       ///< already here, unchanged
    int replaced = 0;    ///< an open or partial take here, finished there (or empty here, with notes there)
    int notes = 0;       ///< takes known here whose player's note was newer there
    int rules = 0;       ///< plans whose rules were new or newer there
    int corrections = 0; ///< what players said of reports that was new or newer there

    bool operator==(const MergeCount&) const = default;
};

/// Which results bulk reading fills; what is left out stays empty.
struct TakeParts {
    bool notes = true;
    bool extras = true;
    bool changes = true;
    bool segments = true;
    bool timesOnly =
        false; ///< of notes, changes and segments only what findings use (timeFields in Fields.h)
    /// As it was heard and judged at first, without what the player said of it.
    bool asHeard = false;
};

/// The log: one SQLite file (WAL, foreign keys, migrations by user_version), shared by several plugin
/// instances and the console. [worker, message; one store per thread]: never from the audio thread. Every
/// call returns a Problem when the file is locked for longer than the busy time, read-only, full or corrupt;
/// none throws.
class LogStore {
public:
    static constexpr int schemaVersion = 7;
    static constexpr int busyMs = 2000;

    /// Opens or creates, and migrates. A new log is there whole or not at all, whenever its program dies and
    /// however many make it at once. A newer schema than ours and another program's database are refused
    /// with words, untouched to the last byte. A corrupt file is refused and left as it is; the words say how
    /// to start a new one beside it. `busy` is how long each call waits for another program's lock, ms.
    [[nodiscard]] static Result<std::unique_ptr<LogStore>> open(const std::filesystem::path& path,
                                                                int busy = busyMs);
    /// For reading alone: never makes, migrates or writes anything (but takes back what a program that died
    /// had not finished writing), so that logs in read-only places and of older versions can be listed,
    /// exported and merged. An empty file counts as an empty log. Every writing call returns a Problem.
    [[nodiscard]] static Result<std::unique_ptr<LogStore>> openReadOnly(const std::filesystem::path& path,
                                                                        int busy = busyMs);
    ~LogStore();

    /// Writes the journal row, so that a crash leaves a partial take.
    [[nodiscard]] Result<Done> beginTake(const TakeHeader& header);
    /// One transaction: the take with all results; the journal row is gone after it. Writing a take again
    /// replaces it, but a partial take without notes never replaces anything, and the newer player's note
    /// stays.
    [[nodiscard]] Result<Done> finishTake(const TakeRecord& record);
    /// As finishTake(), unless a take of the same player, instrument and drill that began at the same time is
    /// there: then nothing is written, and the id of that one comes back. One transaction, so that of many
    /// who keep one take at once only the first does.
    [[nodiscard]] Result<std::optional<std::string>> addTake(const TakeRecord& record);
    /// The take held no playing: its journal row is removed.
    [[nodiscard]] Result<Done> dropTake(const std::string& id);
    /// Open takes of this machine not begun by a living process become partial; returns how many.
    [[nodiscard]] Result<int> recoverOpenTakes();
    /// Finished takes, oldest first; those that were only begun are openTakes().
    [[nodiscard]] Result<std::vector<TakeSummary>> takes(const TakeFilter& filter) const;
    /// `id` may be an unambiguous prefix of one, or the take's number in this log.
    [[nodiscard]] Result<TakeRecord> take(const std::string& id, TakeParts parts = {}) const;
    [[nodiscard]] Result<std::vector<PlanTake>> planTakes(const TakeFilter& filter) const;
    /// The number of the take written last, 0 = none. Numbers count up in the order of writing, so that what
    /// is new since a number can be read without the rest: it bears that number or a later one. A take that
    /// is written again keeps its number while it is the newest, and else gets a new one.
    [[nodiscard]] Result<std::int64_t> newestNumber() const;
    [[nodiscard]] Result<std::vector<std::string>> players() const;
    /// Takes begun and not finished, of any process and machine, oldest first.
    [[nodiscard]] Result<std::vector<TakeHeader>> openTakes() const;

    /// Bulk reading: calls `visit` with each take, oldest first, one in memory at a time, from one unchanging
    /// view of the log; `visit` returns false to stop and must not use this store. Returns how many were
    /// visited.
    [[nodiscard]] Result<int> forEachTake(const TakeFilter& filter,
                                          const std::function<bool(const TakeRecord&)>& visit,
                                          TakeParts parts = {}) const;

    [[nodiscard]] Result<Done> setPlayerNote(const std::string& takeId, const std::string& note);
    /// The player says that what was reported of notes was not so (`right`), or takes that back. The take's
    /// whole id. A Problem where the take is not there or no such thing was reported of it; then nothing is
    /// written. What was heard stays: takes, their lists and the plan are read with the player's word taken
    /// for it, and a take that passes so by its plan's rules counts as passed.
    [[nodiscard]] Result<Done> correct(const std::string& takeId, const std::vector<NoteReport>& reports,
                                       bool right);

    /// Rules of a plan, kept with the log so that two machines agree; nothing when never set.
    [[nodiscard]] Result<std::optional<TempoRules>>
    rules(const std::string& player, const std::string& instrumentId, const std::string& drillName) const;
    [[nodiscard]] Result<Done> setRules(const std::string& player, const std::string& instrumentId,
                                        const std::string& drillName, const TempoRules& rules);
    /// The same, where the log holds none for this plan yet; else nothing happens.
    [[nodiscard]] Result<Done> setRulesIfNone(const std::string& player, const std::string& instrumentId,
                                              const std::string& drillName, const TempoRules& rules);

    /// Round trip of an audio device, ms; nothing when never measured or set.
    [[nodiscard]] Result<std::optional<double>> roundTripMs(const std::string& device) const;
    [[nodiscard]] Result<Done> setRoundTripMs(const std::string& device, double ms);

    /// Takes of another log that are not here are added; merging twice changes nothing.
    /// Each take is its own transaction: an interrupted merge is completed by merging again.
    [[nodiscard]] Result<MergeCount> merge(const std::filesystem::path& other);

    /// Reads the whole file, every take of it, and says whether it is sound and all there.
    [[nodiscard]] Result<Done> check() const;

    /// True when the file at path() is no longer the one that is open: moved, deleted or put in its place.
    [[nodiscard]] bool moved() const;
    /// Changes how long each call waits for another program's lock.
    void setBusyMs(int ms);

    [[nodiscard]] const std::string& machine() const; ///< stable random id of this log's machine
    [[nodiscard]] const std::filesystem::path& path() const;

private:
    struct Impl;
    explicit LogStore(std::unique_ptr<Impl> impl);
    std::unique_ptr<Impl> impl;
};

} // namespace valveladder
