#include "Log/LogStoreImpl.h"

#include "Base/Number.h"
#include "Base/Sentence.h"
#include "Log/PackedTimes.h"
#include "Records/Json.h"

#include <algorithm>
#include <utility>
#include <variant>

namespace valveladder {

namespace {

/// The conditions of a filter, with what is to be bound to them.
struct Where {
    std::string sql;
    std::vector<std::variant<std::string, std::int64_t>> values;

    void add(const char* condition, std::variant<std::string, std::int64_t> value) {
        sql += sql.empty() ? " WHERE " : " AND ";
        sql += condition;
        values.push_back(std::move(value));
    }
    void bindTo(SQLite::Statement& statement) const {
        int next = 1;
        for (const auto& value : values)
            std::visit([&](const auto& content) { statement.bind(next++, content); }, value);
    }
};

Where whereOf(const TakeFilter& filter) {
    Where where;
    if (filter.player)
        where.add("player = ?", *filter.player);
    if (filter.instrumentId)
        where.add("instrument_id = ?", *filter.instrumentId);
    if (filter.drillName)
        where.add("drill_name = ?", *filter.drillName);
    if (filter.fromUtc)
        where.add("started_utc >= ?", *filter.fromUtc);
    if (filter.toUtc)
        where.add("started_utc < ?", *filter.toUtc);
    if (filter.fromNumber > 0)
        where.add("number >= ?", filter.fromNumber);
    if (!filter.withInvented)
        where.add("invented = ?", std::int64_t{0});
    if (!filter.withReal)
        where.add("invented = ?", std::int64_t{1});
    return where;
}

/// Calls `row` with each matching row, oldest first. The order of ids breaks ties, as plans do.
template <typename Row>
void selectTakes(LogDatabase& log, const std::string& columns, const TakeFilter& filter, Row&& row) {
    const Where where = whereOf(filter);
    // What is new is few rows at the table's end: an index would go through all of the plan's.
    const std::string from = filter.fromNumber > 0 ? " FROM takes NOT INDEXED" : " FROM takes";
    std::string sql = "SELECT " + columns + from + where.sql;
    if (filter.newest > 0)
        sql = "SELECT * FROM (SELECT started_utc AS at, id AS tie, " + columns + from + where.sql +
              " ORDER BY started_utc DESC, id DESC LIMIT " + std::to_string(filter.newest) +
              ") ORDER BY at, tie";
    else
        sql += " ORDER BY started_utc, id";
    SQLite::Statement statement(log.database, sql);
    where.bindTo(statement);
    while (statement.executeStep())
        row(statement, filter.newest > 0 ? 2 : 0);
}

/// Of each matching take, oldest first, what `read` makes of its `columns`. Where the player said that
/// something in it was right, `judge` is given the take as they say.
template <typename Row, typename Read, typename Judge>
std::vector<Row> judgedTakes(LogDatabase& log, const std::string& columns, const TakeFilter& filter,
                             Read&& read, Judge&& judge) {
    std::vector<Row> list;
    std::vector<std::pair<std::size_t, std::string>> corrected; // places in the list, and ids
    selectTakes(log,
                "id, EXISTS (SELECT 1 FROM corrections WHERE take_id = takes.id AND said_right), " + columns,
                filter, [&](const SQLite::Statement& row, int first) {
                    SqlRead reader(row, first + 2);
                    read(reader, list.emplace_back());
                    if (row.getColumn(first + 1).getInt() != 0)
                        corrected.emplace_back(list.size() - 1, row.getColumn(first).getString());
                });
    for (const auto& [place, id] : corrected)
        if (const auto record = log.readTake(id, {}))
            judge(*record, list[place]);
    return list;
}

template <typename Row>
const std::string& selectResultsSql() {
    static const std::string sql =
        "SELECT " + joined(columnsOf<Row>()) + " FROM " + tableOf<Row> + " WHERE take = ? ORDER BY position";
    return sql;
}

template <typename Row>
void readResults(LogDatabase& log, std::int64_t take, std::vector<Row>& rows) {
    LogDatabase::Use select(log, selectResultsSql<Row>());
    select->bind(1, take);
    while (select->executeStep()) {
        SqlRead read(*select);
        fields(read, rows.emplace_back());
    }
}

template <typename Row>
const std::string& selectTimesSql() {
    static const std::string sql = [] {
        SqlColumns columns;
        const Row row{};
        timeFields(columns, row);
        return "SELECT " + joined(columns.names) + " FROM " + tableOf<Row> +
               " WHERE take = ? ORDER BY position";
    }();
    return sql;
}

template <typename Row>
void readTimes(LogDatabase& log, std::int64_t take, std::vector<Row>& rows) {
    LogDatabase::Use select(log, selectTimesSql<Row>());
    select->bind(1, take);
    while (select->executeStep()) {
        SqlRead read(*select);
        timeFields(read, rows.emplace_back());
    }
}

template <typename Row>
void readRows(LogDatabase& log, std::int64_t take, std::vector<Row>& rows, bool timesOnly) {
    if (timesOnly)
        readTimes(log, take, rows);
    else
        readResults(log, take, rows);
}

/// A whole take's row into the record; returns its number.
std::int64_t readRow(const SQLite::Statement& row, TakeRecord& record) {
    TakeSummary derived; // repeated in the row for lists; the record computes them from its notes
    SqlRead read(row, 1);
    sharedFields(read, record);
    derivedFields(read, derived);
    recordFields(read, record);
    performanceFields(read, record.performance);
    record.performance.source = derived.source;
    record.performance.asynchronyMs = derived.asynchronyMs;
    return row.getColumn(0).getInt64();
}

void clearResults(Performance& performance) {
    performance.notes.clear();
    performance.extras.clear();
    performance.changes.clear();
    performance.segments.clear();
}

bool readPacked(LogDatabase& log, std::int64_t take, Performance& performance) {
    LogDatabase::Use select(log, "SELECT packed FROM take_times WHERE take = ?");
    select->bind(1, take);
    if (!select->executeStep())
        return false;
    const SQLite::Column packed = select->getColumn(0);
    const auto size = static_cast<std::size_t>(packed.getBytes());
    if (size > 0 && unpackTimes({static_cast<const char*>(packed.getBlob()), size}, performance))
        return true;
    clearResults(performance);
    return false;
}

void readPerformance(LogDatabase& log, std::int64_t take, Performance& performance, TakeParts parts) {
    clearResults(performance);
    const bool allTimes = parts.timesOnly && parts.notes && parts.changes && parts.segments && !parts.extras;
    if (allTimes && readPacked(log, take, performance))
        return;
    if (parts.notes)
        readRows(log, take, performance.notes, parts.timesOnly);
    if (parts.extras)
        readResults(log, take, performance.extras);
    if (parts.changes)
        readRows(log, take, performance.changes, parts.timesOnly);
    if (parts.segments)
        readRows(log, take, performance.segments, parts.timesOnly);
}

void keepParts(Performance& performance, const TakeParts& parts) {
    if (!parts.notes)
        performance.notes.clear();
    if (!parts.extras)
        performance.extras.clear();
    if (!parts.changes)
        performance.changes.clear();
    if (!parts.segments)
        performance.segments.clear();
}

/// The id of the take with this number. Eight digits and more are the beginning of an id.
std::optional<std::string> idOfNumber(LogDatabase& log, const std::string& text) {
    constexpr std::size_t mostDigits = 7;
    const auto number = text.size() <= mostDigits ? integerIn(text) : std::nullopt;
    if (!number)
        return std::nullopt;
    LogDatabase::Use select(log, "SELECT id FROM takes WHERE number = ?");
    select->bind(1, *number);
    if (!select->executeStep())
        return std::nullopt;
    return select->getColumn(0).getString();
}

/// The one id that `text` names or begins; throws a Problem when there is none or several.
std::string resolveId(LogDatabase& log, const std::string& text) {
    if (auto numbered = idOfNumber(log, text))
        return std::move(*numbered);
    LogDatabase::Use select(log, "SELECT id FROM takes WHERE id = ?1 OR (length(?1) > 0 AND "
                                 "substr(id, 1, length(?1)) = ?1) ORDER BY id <> ?1, id LIMIT 2");
    select->bind(1, text);
    std::vector<std::string> ids;
    while (select->executeStep())
        ids.push_back(select->getColumn(0).getString());
    if (ids.empty())
        throw noSuchTake(log.path, text);
    if (ids.size() > 1 && ids.front() != text)
        throw Problem{"several takes begin with " + text, pathText(log.path), "Give more of the id"};
    return ids.front();
}

} // namespace

std::vector<TakeSummary> LogDatabase::summaries(const TakeFilter& filter) {
    return judgedTakes<TakeSummary>(
        *this, "number, " + joined(columnsOf<TakeSummary>()), filter,
        [](SqlRead& read, TakeSummary& take) {
            read("number", take.number);
            fields(read, take);
        },
        [](const TakeRecord& record, TakeSummary& take) {
            const std::int64_t number = take.number;
            take = summaryOf(record);
            take.number = number;
        });
}

bool LogDatabase::readTake(const std::string& id, TakeParts parts, TakeRecord& record) {
    static const std::string sql = "SELECT number, " + joined(takeColumns()) + " FROM takes WHERE id = ?";
    std::int64_t number = 0;
    {
        Use select(*this, sql);
        select->bind(1, id);
        if (!select->executeStep())
            return false;
        number = readRow(*select, record);
    }
    record.corrections.clear();
    for (const SaidOfReport& said : saidOf(id))
        if (said.right)
            record.corrections.push_back(said.correction);
    if (record.corrections.empty() || parts.asHeard) {
        readPerformance(*this, number, record.performance, parts);
        return true;
    }
    readPerformance(*this, number, record.performance, {}); // one correction reaches into all of its parts
    takeTheirWord(record);
    keepParts(record.performance, parts);
    return true;
}

std::optional<TakeRecord> LogDatabase::readTake(const std::string& id, TakeParts parts) {
    TakeRecord record;
    if (!readTake(id, parts, record))
        return std::nullopt;
    return record;
}

std::optional<TempoRules> LogDatabase::rulesOf(const std::string& player, const std::string& instrumentId,
                                               const std::string& drillName) {
    Use select(*this, "SELECT rules_json FROM plan_rules WHERE player = ? AND instrument_id = ? AND "
                      "drill_name = ?");
    select->bind(1, player);
    select->bind(2, instrumentId);
    select->bind(3, drillName);
    if (!select->executeStep())
        return std::nullopt;
    const auto rules = rulesFromJson(select->getColumn(0).getString());
    if (!rules.ok())
        throw rules.problem();
    return rules.value();
}

std::vector<JournalRow> LogDatabase::openTakes() {
    static const std::string sql = "SELECT process, process_start, host, " + joined(columnsOf<TakeHeader>()) +
                                   " FROM open_takes ORDER BY started_utc, id";
    std::vector<JournalRow> list;
    Use select(*this, sql);
    while (select->executeStep()) {
        JournalRow& take = list.emplace_back();
        SqlRead read(*select);
        read("process", take.process.process);
        read("processStart", take.process.start);
        read("host", take.process.host);
        fields(read, take.header);
    }
    return list;
}

Result<std::vector<TakeSummary>> LogStore::takes(const TakeFilter& filter) const {
    return guarded(impl->path, [&] { return impl->summaries(filter); });
}

Result<TakeRecord> LogStore::take(const std::string& id, TakeParts parts) const {
    return guarded(impl->path, [&] {
        SQLite::Transaction view(impl->database); // one view of the take's rows; ends without a write
        auto record = impl->readTake(resolveId(*impl, id), parts);
        return std::move(record.value());
    });
}

Result<std::vector<PlanTake>> LogStore::planTakes(const TakeFilter& filter) const {
    return guarded(impl->path, [&] {
        return judgedTakes<PlanTake>(
            *impl, "started_utc, id, played_bpm, state, passed, expected, time_zone", filter,
            [](SqlRead& read, PlanTake& take) {
                TakeState state = TakeState::whole;
                read("startedUtc", take.startedUtc);
                read("id", take.takeId);
                read("playedBpm", take.playedBpm);
                read("state", state);
                read("passed", take.passed);
                int expected = 0;
                read("expected", expected);
                read("timeZone", take.timeZone);
                take.measured = expected > 0;
                take.whole = state == TakeState::whole;
            },
            [](const TakeRecord& record, PlanTake& take) { take.passed = record.passed; });
    });
}

Result<std::int64_t> LogStore::newestNumber() const {
    return guarded(impl->path, [&] {
        LogDatabase::Use select(*impl, "SELECT coalesce(max(number), 0) FROM takes");
        select->executeStep();
        return select->getColumn(0).getInt64();
    });
}

Result<std::vector<std::string>> LogStore::players() const {
    return guarded(impl->path, [&] {
        std::vector<std::string> list;
        LogDatabase::Use select(*impl, "SELECT name FROM players ORDER BY name");
        while (select->executeStep())
            list.push_back(select->getColumn(0).getString());
        return list;
    });
}

Result<std::vector<TakeHeader>> LogStore::openTakes() const {
    return guarded(impl->path, [&] {
        std::vector<TakeHeader> list;
        for (JournalRow& take : impl->openTakes())
            list.push_back(std::move(take.header));
        return list;
    });
}

Result<int> LogStore::forEachTake(const TakeFilter& filter,
                                  const std::function<bool(const TakeRecord&)>& visit,
                                  TakeParts parts) const {
    return guarded(impl->path, [&] {
        SQLite::Transaction view(impl->database);
        int visited = 0;
        std::vector<std::string> ids;
        selectTakes(*impl, "id", filter, [&](const SQLite::Statement& row, int first) {
            ids.push_back(row.getColumn(first).getString());
        });
        TakeRecord record; // one for all, so that its memory is asked for once
        for (const std::string& id : ids) {
            if (!impl->readTake(id, parts, record))
                continue;
            ++visited;
            if (!visit(record))
                break;
        }
        return visited;
    });
}

Result<std::optional<TempoRules>> LogStore::rules(const std::string& player, const std::string& instrumentId,
                                                  const std::string& drillName) const {
    return guarded(impl->path, [&] { return impl->rulesOf(player, instrumentId, drillName); });
}

Result<std::optional<double>> LogStore::roundTripMs(const std::string& device) const {
    return guarded(impl->path, [&]() -> std::optional<double> {
        LogDatabase::Use select(*impl, "SELECT round_trip_ms FROM devices WHERE name = ?");
        select->bind(1, device);
        if (!select->executeStep())
            return std::nullopt;
        return select->getColumn(0).getDouble();
    });
}

} // namespace valveladder
