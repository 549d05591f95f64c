#pragma once

#include "Log/LogStore.h"
#include "Log/ProcessMark.h"
#include "Log/Program.h"
#include "Log/Schema.h"
#include "Log/SqlFields.h"
#include "Log/SqlProblem.h"

#include <SQLiteCpp/SQLiteCpp.h>

#include <map>
#include <string>
#include <vector>

namespace valveladder {

/// What the player wrote about a take, and when; 0 = never. The newer one wins.
struct PlayerNote {
    UtcMs utc = 0;
    std::string text;

    auto operator<=>(const PlayerNote&) const = default;
};

/// What the player said last of a report, and when.
struct SaidOfReport {
    Correction correction;
    bool right = false; ///< false: it was taken back
};

/// A row of the table open_takes: a take that has begun and not ended, and the process that plays it.
struct JournalRow {
    TakeHeader header;
    ProcessMark process;
};

/// The open file and its statements: what LogStore does, in terms that throw.
struct LogDatabase {
    LogDatabase(std::filesystem::path file, SQLite::Database opened);

    std::filesystem::path path;
    SQLite::Database database;
    std::string machine;
    bool programNoted = false; ///< in the log, by this store: its first write does it
    std::map<std::string, SQLite::Statement> statements; // dies before the database

    /// A cached statement, reset when `Use` ends, so that it holds no lock.
    class Use {
    public:
        Use(LogDatabase& owner, const std::string& sql);
        ~Use() { statement.tryReset(); }
        Use(const Use&) = delete;
        Use& operator=(const Use&) = delete;
        SQLite::Statement* operator->() { return &statement; }
        SQLite::Statement& operator*() { return statement; }

    private:
        SQLite::Statement& statement;
    };

    /// Runs `action` in one immediate transaction; a Problem or exception rolls it back.
    template <typename Action>
    auto write(Action&& action) -> Result<decltype(action())> {
        return guarded(path, [&] {
            refuseMoved();
            SQLite::Transaction transaction(database, SQLite::TransactionBehavior::IMMEDIATE);
            refuseOtherSchema();
            if (!programNoted)
                noteProgram(database);
            auto result = action();
            transaction.commit();
            programNoted = true;
            return result;
        });
    }

    [[nodiscard]] bool moved();
    void refuseMoved();
    void refuseOtherSchema();

    // All below throw, and are for use inside write() or guarded().
    /// Writes a take, in place of what is there under its id, open or not. A player's note that is there and
    /// newer is kept. A partial take without notes, as a crash leaves it, never replaces anything.
    void writeTake(const TakeRecord& record, const PlayerNote& note);
    /// The id of a take of the same player, instrument, drill and begin; nothing when there is none.
    [[nodiscard]] std::optional<std::string> sameTake(const TakeHeader& header);
    [[nodiscard]] std::optional<PlayerNote> playerNote(const std::string& takeId);
    void writePlayerNote(const std::string& takeId, const PlayerNote& note);
    void deleteOpen(const std::string& id);
    [[nodiscard]] std::vector<JournalRow> openTakes();
    [[nodiscard]] std::vector<TakeSummary> summaries(const TakeFilter& filter);
    /// Everything that was ever said of a take's reports, by note and kind.
    [[nodiscard]] std::vector<SaidOfReport> saidOf(const std::string& takeId);
    /// Keeps what was said, unless something newer is there; whether it was kept.
    bool writeSaid(const std::string& takeId, const SaidOfReport& said);
    /// The rules of a plan; nothing when never set.
    [[nodiscard]] std::optional<TempoRules>
    rulesOf(const std::string& player, const std::string& instrumentId, const std::string& drillName);
    /// Nothing when there is no such take.
    [[nodiscard]] std::optional<TakeRecord> readTake(const std::string& id, TakeParts parts);
    /// The same into a record whose memory is used again; false when there is no such take.
    [[nodiscard]] bool readTake(const std::string& id, TakeParts parts, TakeRecord& record);

private:
    void insertRow(const TakeRecord& record, const PlayerNote& note);
    void takeTheirWord(TakeRecord& record);
};

struct LogStore::Impl : LogDatabase {
    using LogDatabase::LogDatabase;
};

/// `id` as it was asked for; `log` is the file.
[[nodiscard]] Problem noSuchTake(const std::filesystem::path& log, const std::string& id);

/// What a new take's own note counts as: written when the take ended.
[[nodiscard]] PlayerNote ownNote(const TakeRecord& record);

/// The partial take that an open one becomes when its program is gone.
[[nodiscard]] TakeRecord partialOf(const TakeHeader& header);

/// The table of a kind of result rows.
template <typename Row>
inline constexpr const char* tableOf = nullptr;
template <>
inline constexpr const char* tableOf<NoteResult> = "notes";
template <>
inline constexpr const char* tableOf<ExtraNote> = "extras";
template <>
inline constexpr const char* tableOf<ChangeResult> = "changes";
template <>
inline constexpr const char* tableOf<SegmentResult> = "segments";

template <typename Row>
[[nodiscard]] std::vector<std::string> columnsOf() {
    SqlColumns columns;
    const Row row{};
    fields(columns, row);
    return columns.names;
}

/// Columns of a whole take's row: those of the summary, then those of the record alone.
[[nodiscard]] std::vector<std::string> takeColumns();

} // namespace valveladder
