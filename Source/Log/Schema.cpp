#include "Log/Schema.h"

#include "Log/LogStore.h"

#include <array>

namespace valveladder {

namespace {

// Steps are history: never edit one that has been released, add another. Times are milliseconds since
// 1970-01-01 UTC. Estimates are a value and its 90 % interval. Columns that hold a figure are absent (NULL)
// where it could not be measured. Lists of words are JSON arrays.

constexpr const char* version1 = R"sql(
PRAGMA application_id = 1447849831;
CREATE TABLE players (name TEXT PRIMARY KEY) WITHOUT ROWID;
CREATE TABLE takes (
    number INTEGER PRIMARY KEY,
    id TEXT NOT NULL UNIQUE,
    player TEXT NOT NULL REFERENCES players(name),
    instrument_id TEXT NOT NULL, instrument_json TEXT NOT NULL,
    drill_name TEXT NOT NULL, drill_json TEXT NOT NULL,
    started_utc INTEGER NOT NULL, time_zone TEXT NOT NULL, ended_utc INTEGER NOT NULL,
    way TEXT NOT NULL, state TEXT NOT NULL, ended_by TEXT NOT NULL,
    planned_bpm REAL NOT NULL,
    played_bpm REAL NOT NULL, played_bpm_low REAL NOT NULL, played_bpm_high REAL NOT NULL,
    start_ppq REAL NOT NULL, end_ppq REAL NOT NULL,
    clock TEXT NOT NULL, round_trip_ms REAL,
    passed INTEGER NOT NULL, player_note TEXT NOT NULL, messages TEXT NOT NULL,
    source TEXT NOT NULL, tuning_hz REAL, remarks TEXT NOT NULL,
    expected INTEGER NOT NULL, right_notes INTEGER NOT NULL, wrong_notes INTEGER NOT NULL,
    missed_notes INTEGER NOT NULL, extra_notes INTEGER NOT NULL, breaths INTEGER NOT NULL,
    clean INTEGER NOT NULL,
    asynchrony_ms REAL, asynchrony_ms_low REAL, asynchrony_ms_high REAL, asynchrony_ms_n INTEGER,
    worst_ioi_spread_percent REAL
);
CREATE INDEX takes_of_plan ON takes (player, instrument_id, drill_name, started_utc);
CREATE INDEX takes_in_time ON takes (started_utc);
CREATE TABLE notes (
    take INTEGER NOT NULL REFERENCES takes(number) ON DELETE CASCADE,
    position INTEGER NOT NULL,
    score_note INTEGER NOT NULL, outcome TEXT NOT NULL, played INTEGER NOT NULL,
    onset_seconds REAL, offset_seconds REAL,
    deviation_ms REAL, raw_deviation_ms REAL, ioi_residual_ms REAL,
    cents REAL, cents_from_prediction REAL, loudness_db REAL,
    split INTEGER NOT NULL, breath_before INTEGER NOT NULL,
    PRIMARY KEY (take, position)
) WITHOUT ROWID;
CREATE TABLE extras (
    take INTEGER NOT NULL REFERENCES takes(number) ON DELETE CASCADE,
    position INTEGER NOT NULL,
    near_note INTEGER NOT NULL, played INTEGER NOT NULL,
    onset_seconds REAL NOT NULL, offset_seconds REAL NOT NULL,
    PRIMARY KEY (take, position)
) WITHOUT ROWID;
CREATE TABLE changes (
    take INTEGER NOT NULL REFERENCES takes(number) ON DELETE CASCADE,
    position INTEGER NOT NULL,
    to_note INTEGER NOT NULL, valves_from TEXT NOT NULL, valves_to TEXT NOT NULL,
    slurred INTEGER NOT NULL, changeover_ms REAL, gap_ms REAL, from_sensors INTEGER NOT NULL,
    PRIMARY KEY (take, position)
) WITHOUT ROWID;
CREATE TABLE segments (
    take INTEGER NOT NULL REFERENCES takes(number) ON DELETE CASCADE,
    position INTEGER NOT NULL,
    span INTEGER NOT NULL, rung INTEGER NOT NULL, segment INTEGER NOT NULL,
    expected INTEGER NOT NULL, right_notes INTEGER NOT NULL, wrong_notes INTEGER NOT NULL,
    missed_notes INTEGER NOT NULL, extra_notes INTEGER NOT NULL, breaths INTEGER NOT NULL,
    heard INTEGER NOT NULL, clean INTEGER NOT NULL,
    asynchrony_ms REAL, asynchrony_ms_low REAL, asynchrony_ms_high REAL, asynchrony_ms_n INTEGER,
    onset_spread_ms REAL, onset_spread_ms_low REAL, onset_spread_ms_high REAL, onset_spread_ms_n INTEGER,
    ioi_spread_ms REAL, ioi_spread_ms_low REAL, ioi_spread_ms_high REAL, ioi_spread_ms_n INTEGER,
    ioi_spread_percent REAL, ioi_spread_percent_low REAL, ioi_spread_percent_high REAL,
    ioi_spread_percent_n INTEGER,
    long_short_ratio REAL, long_short_ratio_low REAL, long_short_ratio_high REAL,
    long_short_ratio_n INTEGER,
    target_ratio REAL,
    PRIMARY KEY (take, position)
) WITHOUT ROWID;
CREATE TABLE open_takes (
    id TEXT PRIMARY KEY,
    player TEXT NOT NULL,
    instrument_id TEXT NOT NULL, instrument_json TEXT NOT NULL,
    drill_name TEXT NOT NULL, drill_json TEXT NOT NULL,
    started_utc INTEGER NOT NULL, time_zone TEXT NOT NULL, way TEXT NOT NULL, planned_bpm REAL NOT NULL
) WITHOUT ROWID;
CREATE TABLE plan_rules (
    player TEXT NOT NULL, instrument_id TEXT NOT NULL, drill_name TEXT NOT NULL,
    rules_json TEXT NOT NULL, changed_utc INTEGER NOT NULL,
    PRIMARY KEY (player, instrument_id, drill_name)
) WITHOUT ROWID;
CREATE TABLE devices (name TEXT PRIMARY KEY, round_trip_ms REAL NOT NULL) WITHOUT ROWID;
)sql";

// Which machine a take comes from, so that logs can be merged; demo data told apart from real takes; which
// process an open take belongs to; when a player's note was written, so that the newer one wins in a merge;
// what valve sensors tell of each finger.
constexpr const char* version2 = R"sql(
CREATE TABLE meta (key TEXT PRIMARY KEY, value TEXT NOT NULL) WITHOUT ROWID;
INSERT INTO meta VALUES ('machine', lower(
    hex(randomblob(4)) || '-' || hex(randomblob(2)) || '-4' || substr(hex(randomblob(2)), 2) || '-' ||
    substr('89ab', 1 + (random() & 3), 1) || substr(hex(randomblob(2)), 2) || '-' || hex(randomblob(6))));
ALTER TABLE takes ADD COLUMN machine TEXT NOT NULL DEFAULT '';
ALTER TABLE takes ADD COLUMN invented INTEGER NOT NULL DEFAULT 0;
ALTER TABLE takes ADD COLUMN note_utc INTEGER NOT NULL DEFAULT 0;
UPDATE takes SET machine = (SELECT value FROM meta WHERE key = 'machine');
ALTER TABLE takes ADD COLUMN asynchrony_spread_ms REAL;
ALTER TABLE takes ADD COLUMN asynchrony_spread_ms_low REAL;
ALTER TABLE takes ADD COLUMN asynchrony_spread_ms_high REAL;
ALTER TABLE takes ADD COLUMN asynchrony_spread_ms_n INTEGER;
ALTER TABLE changes ADD COLUMN finger_ms_1 REAL;
ALTER TABLE changes ADD COLUMN finger_ms_2 REAL;
ALTER TABLE changes ADD COLUMN finger_ms_3 REAL;
ALTER TABLE changes ADD COLUMN finger_ms_4 REAL;
ALTER TABLE notes ADD COLUMN valves_wrong INTEGER NOT NULL DEFAULT 0;
ALTER TABLE open_takes ADD COLUMN machine TEXT NOT NULL DEFAULT '';
ALTER TABLE open_takes ADD COLUMN invented INTEGER NOT NULL DEFAULT 0;
ALTER TABLE open_takes ADD COLUMN process INTEGER NOT NULL DEFAULT 0;
ALTER TABLE open_takes ADD COLUMN process_start TEXT NOT NULL DEFAULT '';
ALTER TABLE open_takes ADD COLUMN host TEXT NOT NULL DEFAULT '';
UPDATE open_takes SET machine = (SELECT value FROM meta WHERE key = 'machine');
)sql";

// Where the round trip of a take was known from, and where its sound is kept. Before, it could only be set by
// hand.
constexpr const char* version3 = R"sql(
ALTER TABLE takes ADD COLUMN round_trip_from TEXT NOT NULL DEFAULT 'none';
ALTER TABLE takes ADD COLUMN sound_file TEXT NOT NULL DEFAULT '';
UPDATE takes SET round_trip_from = 'by-hand' WHERE round_trip_ms IS NOT NULL;
)sql";

// What findings read of a take, in one piece (PackedTimes.h). Takes from before have none: their rows are
// read.
constexpr const char* version4 = R"sql(
CREATE TABLE take_times (
    take INTEGER PRIMARY KEY REFERENCES takes(number) ON DELETE CASCADE,
    packed BLOB NOT NULL
);
)sql";

// Which fingers came late and by how much; what a note cracked through; tries of a segment that were broken
// off.
constexpr const char* version5 = R"sql(
ALTER TABLE changes ADD COLUMN late_fingers TEXT NOT NULL DEFAULT '0';
ALTER TABLE changes ADD COLUMN late_by_ms REAL;
ALTER TABLE notes ADD COLUMN cracked_ms REAL;
ALTER TABLE notes ADD COLUMN cracked_through INTEGER NOT NULL DEFAULT -1;
ALTER TABLE segments ADD COLUMN earlier_tries INTEGER NOT NULL DEFAULT 0;
)sql";

// What players say was right, though it was reported otherwise: one row for each report that was ever said
// so, the newest word counting. By the take's id, as takes that are written again get another number.
constexpr const char* version6 = R"sql(
CREATE TABLE corrections (
    take_id TEXT NOT NULL, score_note INTEGER NOT NULL, report TEXT NOT NULL,
    said_right INTEGER NOT NULL, said_utc INTEGER NOT NULL,
    PRIMARY KEY (take_id, score_note, report)
) WITHOUT ROWID;
)sql";

// How likely what is reported of a take by sound is so.
constexpr const char* version7 = R"sql(
ALTER TABLE notes ADD COLUMN likelihood REAL;
ALTER TABLE extras ADD COLUMN likelihood REAL;
ALTER TABLE changes ADD COLUMN late_likelihood REAL;
)sql";

constexpr std::array<const char*, LogStore::schemaVersion> steps{version1, version2, version3, version4,
                                                                 version5, version6, version7};

bool ofAnotherProgram(SQLite::Database& database) {
    const int application = database.execAndGet("PRAGMA application_id").getInt();
    if (application == logApplicationId)
        return false;
    return application != 0 || database.execAndGet("SELECT count(*) FROM sqlite_master").getInt() > 0;
}

} // namespace

int schemaVersionOf(SQLite::Database& database) {
    return database.execAndGet("PRAGMA user_version").getInt();
}

Problem anotherPrograms(const char* where) {
    return {"the file is the database of another program", where,
            "Move it to another folder, and a log is begun in its place"};
}

void refuseForeign(SQLite::Database& database, const char* where) {
    if (ofAnotherProgram(database))
        throw anotherPrograms(where);
    const int version = schemaVersionOf(database);
    if (version > LogStore::schemaVersion)
        throw Problem{"the log was written by a newer version of Valve Ladder (schema " +
                          std::to_string(version) + ", this one knows " +
                          std::to_string(LogStore::schemaVersion) + ")",
                      where, "Update this one; the newer log stays as it is"};
    if (version < 0)
        throw Problem{"the log says that its schema is " + std::to_string(version), where,
                      "Move it to another folder, and a new log is begun"};
}

void migrate(SQLite::Database& database, const char* where) {
    refuseForeign(database, where);
    if (schemaVersionOf(database) == LogStore::schemaVersion)
        return;
    SQLite::Transaction transaction(database, SQLite::TransactionBehavior::IMMEDIATE);
    refuseForeign(database, where); // another process may have been quicker
    for (int version = schemaVersionOf(database); version < LogStore::schemaVersion; ++version)
        database.exec(steps[static_cast<std::size_t>(version)]);
    database.exec("PRAGMA user_version = " + std::to_string(LogStore::schemaVersion));
    transaction.commit();
}

} // namespace valveladder
