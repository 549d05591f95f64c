#include "Log/LogStoreImpl.h"

#include "Base/Sentence.h"
#include "Base/SystemClock.h"
#include "Log/PackedTimes.h"
#include "Records/Json.h"
#include "Words/SessionWords.h"

namespace valveladder {

namespace {

std::string insertSql(const std::string& table, const std::vector<std::string>& columns) {
    const std::vector<std::string> places(columns.size(), "?");
    return "INSERT INTO " + table + " (" + joined(columns) + ") VALUES (" + joined(places) + ")";
}

template <typename Row>
const std::string& insertResultSql() {
    static const std::string sql = [] {
        std::vector<std::string> columns = columnsOf<Row>();
        columns.insert(columns.begin(), {"take", "position"});
        return insertSql(tableOf<Row>, columns);
    }();
    return sql;
}

template <typename Row>
void insertResults(LogDatabase& log, std::int64_t take, const std::vector<Row>& rows) {
    LogDatabase::Use insert(log, insertResultSql<Row>());
    for (std::size_t i = 0; i < rows.size(); ++i) {
        insert->reset();
        insert->bind(1, take);
        insert->bind(2, static_cast<std::int64_t>(i));
        SqlBind bind(*insert, 3);
        fields(bind, rows[i]);
        insert->exec();
    }
}

void insertTimes(LogDatabase& log, std::int64_t take, const Performance& performance) {
    LogDatabase::Use insert(log, "INSERT INTO take_times (take, packed) VALUES (?, ?)");
    const std::string packed = packTimes(performance);
    insert->bind(1, take);
    insert->bind(2, packed.data(), static_cast<int>(packed.size()));
    insert->exec();
}

const std::string& insertTakeSql() {
    static const std::string sql = [] {
        std::vector<std::string> columns = takeColumns();
        columns.push_back("note_utc");
        return insertSql("takes", columns);
    }();
    return sql;
}

const std::string& insertOpenSql() {
    static const std::string sql = [] {
        std::vector<std::string> columns{"process", "process_start", "host"};
        for (const std::string& name : columnsOf<TakeHeader>())
            columns.push_back(name);
        std::string insert = insertSql("open_takes", columns);
        return insert.replace(0, std::string_view("INSERT").size(), "INSERT OR REPLACE");
    }();
    return sql;
}

void ensurePlayer(LogDatabase& log, const std::string& name) {
    LogDatabase::Use insert(log, "INSERT OR IGNORE INTO players (name) VALUES (?)");
    insert->bind(1, name);
    insert->exec();
}

void deleteTake(LogDatabase& log, const std::string& id) {
    LogDatabase::Use remove(log, "DELETE FROM takes WHERE id = ?");
    remove->bind(1, id);
    remove->exec();
}

/// A take that began while the log could not be opened does not know the log's machine.
TakeHeader withMachine(TakeHeader header, const std::string& machine) {
    if (header.machine.empty())
        header.machine = machine;
    return header;
}

} // namespace

std::vector<std::string> takeColumns() {
    SqlColumns columns;
    const TakeSummary summary;
    const TakeRecord record;
    fields(columns, summary);
    recordFields(columns, record);
    performanceFields(columns, record.performance);
    return columns.names;
}

Problem noSuchTake(const std::filesystem::path& log, const std::string& id) {
    return {"there is no take " + id, pathText(log),
            "See the list of takes; in the console, 'valve-ladder take list' shows their numbers and ids"};
}

PlayerNote ownNote(const TakeRecord& record) {
    return record.playerNote.empty() ? PlayerNote{} : PlayerNote{record.endedUtc, record.playerNote};
}

TakeRecord partialOf(const TakeHeader& header) {
    TakeRecord record;
    record.header = header;
    record.endedUtc = header.startedUtc;
    record.state = TakeState::cutShort;
    record.end = TakeEnd::stopped;
    record.messages = {words::programEnded};
    return record;
}

void LogDatabase::insertRow(const TakeRecord& record, const PlayerNote& note) {
    TakeSummary summary = summaryOf(record);
    summary.header = withMachine(std::move(summary.header), machine);
    summary.playerNote = note.text;
    Use insert(*this, insertTakeSql());
    SqlBind bind(*insert);
    fields(bind, summary);
    recordFields(bind, record);
    performanceFields(bind, record.performance);
    bind("noteUtc", note.utc);
    insert->exec();
}

void LogDatabase::writeTake(const TakeRecord& record, const PlayerNote& note) {
    const std::string& id = record.header.id;
    const auto there = playerNote(id);
    if (there && record.state != TakeState::whole && !record.performance.measured())
        return deleteOpen(id);
    const PlayerNote newest = std::max(note, there.value_or(PlayerNote{}));
    ensurePlayer(*this, record.header.player);
    deleteTake(*this, id);
    insertRow(record, newest);
    const std::int64_t take = database.getLastInsertRowid();
    insertResults(*this, take, record.performance.notes);
    insertResults(*this, take, record.performance.extras);
    insertResults(*this, take, record.performance.changes);
    insertResults(*this, take, record.performance.segments);
    insertTimes(*this, take, record.performance);
    deleteOpen(id);
}

std::optional<std::string> LogDatabase::sameTake(const TakeHeader& header) {
    Use select(*this, "SELECT id FROM takes WHERE player = ? AND instrument_id = ? AND drill_name = ? AND "
                      "started_utc = ? ORDER BY id LIMIT 1");
    select->bind(1, header.player);
    select->bind(2, header.instrumentId);
    select->bind(3, header.drillName);
    select->bind(4, header.startedUtc);
    if (!select->executeStep())
        return std::nullopt;
    return select->getColumn(0).getString();
}

std::optional<PlayerNote> LogDatabase::playerNote(const std::string& takeId) {
    Use select(*this, "SELECT note_utc, player_note FROM takes WHERE id = ?");
    select->bind(1, takeId);
    if (!select->executeStep())
        return std::nullopt;
    return PlayerNote{select->getColumn(0).getInt64(), select->getColumn(1).getString()};
}

void LogDatabase::writePlayerNote(const std::string& takeId, const PlayerNote& note) {
    Use update(*this, "UPDATE takes SET player_note = ?, note_utc = ? WHERE id = ?");
    update->bind(1, note.text);
    update->bind(2, note.utc);
    update->bind(3, takeId);
    update->exec();
}

void LogDatabase::deleteOpen(const std::string& id) {
    Use remove(*this, "DELETE FROM open_takes WHERE id = ?");
    remove->bind(1, id);
    remove->exec();
}

Result<Done> LogStore::beginTake(const TakeHeader& header) {
    return impl->write([&] {
        const ProcessMark process = thisProcess();
        LogDatabase::Use insert(*impl, insertOpenSql());
        SqlBind bind(*insert);
        bind("process", process.process);
        bind("processStart", process.start);
        bind("host", process.host);
        const TakeHeader written = withMachine(header, impl->machine);
        fields(bind, written);
        insert->exec();
        return Done{};
    });
}

Result<Done> LogStore::finishTake(const TakeRecord& record) {
    return impl->write([&] {
        impl->writeTake(record, ownNote(record));
        return Done{};
    });
}

Result<std::optional<std::string>> LogStore::addTake(const TakeRecord& record) {
    return impl->write([&] {
        auto there = impl->sameTake(record.header);
        if (!there)
            impl->writeTake(record, ownNote(record));
        return there;
    });
}

Result<Done> LogStore::dropTake(const std::string& id) {
    return impl->write([&] {
        impl->deleteOpen(id);
        return Done{};
    });
}

Result<int> LogStore::recoverOpenTakes() {
    const auto open = openTakes();
    if (!open.ok())
        return open.problem();
    if (open.value().empty())
        return 0; // no need to wait for a lock
    return impl->write([&] {
        int recovered = 0;
        for (const JournalRow& take : impl->openTakes()) {
            if (mayLive(take.process))
                continue;
            impl->writeTake(partialOf(take.header), {});
            ++recovered;
        }
        return recovered;
    });
}

Result<Done> LogStore::setPlayerNote(const std::string& takeId, const std::string& note) {
    return impl->write([&] {
        if (!impl->playerNote(takeId))
            throw noSuchTake(impl->path, takeId);
        impl->writePlayerNote(takeId, {systemUtcMs(), note});
        return Done{};
    });
}

Result<Done> LogStore::setRules(const std::string& player, const std::string& instrumentId,
                                const std::string& drillName, const TempoRules& rules) {
    return impl->write([&] {
        LogDatabase::Use insert(*impl, "INSERT OR REPLACE INTO plan_rules VALUES (?, ?, ?, ?, ?)");
        insert->bind(1, player);
        insert->bind(2, instrumentId);
        insert->bind(3, drillName);
        insert->bind(4, toJson(rules));
        insert->bind(5, systemUtcMs());
        insert->exec();
        return Done{};
    });
}

Result<Done> LogStore::setRulesIfNone(const std::string& player, const std::string& instrumentId,
                                      const std::string& drillName, const TempoRules& given) {
    auto known = rules(player, instrumentId, drillName);
    if (!known)
        return known.problem();
    return known.value() ? Result<Done>(Done{}) : setRules(player, instrumentId, drillName, given);
}

Result<Done> LogStore::setRoundTripMs(const std::string& device, double ms) {
    return impl->write([&] {
        LogDatabase::Use insert(*impl, "INSERT OR REPLACE INTO devices VALUES (?, ?)");
        insert->bind(1, device);
        insert->bind(2, finiteOrZero(ms));
        insert->exec();
        return Done{};
    });
}

} // namespace valveladder
