#include "Log/Export.h"

#include "Log/RandomTakes.h"
#include "Log/TempFolder.h"
#include "Records/EnumNames.h"
#include "Records/Json.h"

#include <gtest/gtest.h>
#include <nlohmann/json.hpp>
#include <valijson/adapters/nlohmann_json_adapter.hpp>
#include <valijson/schema.hpp>
#include <valijson/schema_parser.hpp>
#include <valijson/validation_results.hpp>
#include <valijson/validator.hpp>

#include <algorithm>
#include <fstream>
#include <iterator>

namespace valveladder {

namespace {

using Table = std::vector<std::vector<std::string>>;

/// A reader of CSV by the grammar of RFC 4180, section 2, written apart from the writer; any deviation from
/// it is a failure.
Table readCsv(const std::filesystem::path& path) {
    std::ifstream file(path, std::ios::binary);
    const std::string text{std::istreambuf_iterator<char>(file), {}};
    Table table;
    std::vector<std::string> record;
    std::size_t at = 0;
    while (at < text.size()) {
        std::string field;
        if (text[at] == '"') {
            for (++at; at < text.size(); ++at) {
                if (text[at] == '"' && text[at + 1] != '"')
                    break;
                if (text[at] == '"')
                    ++at;
                field += text[at];
            }
            ++at;
        } else {
            for (; at < text.size() && text[at] != ',' && text[at] != '\r'; ++at) {
                EXPECT_NE(text[at], '"');
                EXPECT_NE(text[at], '\n');
                field += text[at];
            }
        }
        record.push_back(field);
        if (at < text.size() && text[at] == ',') {
            ++at;
            continue;
        }
        EXPECT_EQ(text.substr(at, 2), "\r\n") << path << " at byte " << at;
        at += 2;
        table.push_back(std::move(record));
        record.clear();
    }
    for (const auto& row : table)
        EXPECT_EQ(row.size(), table.front().size()) << path; // rule 4: the same number of fields
    return table;
}

std::string cell(const Table& table, std::size_t row, const std::string& column) {
    const auto& heading = table.at(0);
    const auto found = std::find(heading.begin(), heading.end(), column);
    EXPECT_NE(found, heading.end()) << column;
    return table.at(row).at(static_cast<std::size_t>(found - heading.begin()));
}

struct FilledLog {
    explicit FilledLog(int count) {
        store = std::move(LogStore::open(folder / "log.sqlite").value());
        for (int i = 0; i < count; ++i) {
            takes.push_back(RandomTakes(static_cast<std::uint64_t>(i)).take(25));
            takes.back().header.startedUtc = 1700000000000 + i;
            EXPECT_TRUE(store->finishTake(takes.back()).ok());
        }
    }
    TempFolder folder;
    std::unique_ptr<LogStore> store;
    std::vector<TakeRecord> takes;
};

nlohmann::json schemaDocument() {
    std::ifstream file(VALVE_LADDER_SOURCE_DIR "/Resources/log.schema.json");
    return nlohmann::json::parse(file);
}

/// Judged by Valijson, an implementation of JSON Schema that is not ours.
std::string faultBySchema(const nlohmann::json& document) {
    const nlohmann::json text = schemaDocument();
    valijson::Schema schema;
    valijson::SchemaParser parser(valijson::SchemaParser::kDraft7);
    parser.populateSchema(valijson::adapters::NlohmannJsonAdapter(text), schema);
    valijson::Validator validator;
    valijson::ValidationResults results;
    if (validator.validate(schema, valijson::adapters::NlohmannJsonAdapter(document), &results))
        return {};
    std::string fault;
    for (valijson::ValidationResults::Error error; results.popError(error);) {
        for (const std::string& part : error.context)
            fault += part;
        fault += ": " + error.description + "\n";
    }
    return fault;
}

} // namespace

TEST(LogExport, JsonHoldsEveryTakeAndAgreesWithItsSchema) {
    const FilledLog log(30);
    const auto text = exportJson(*log.store, {});
    ASSERT_TRUE(text.ok()) << text.problem().text();
    const auto document = nlohmann::json::parse(text.value());
    EXPECT_EQ(faultBySchema(document), "");
    ASSERT_EQ(document["takes"].size(), log.takes.size());
    for (std::size_t i = 0; i < log.takes.size(); ++i)
        EXPECT_EQ(takeFromJson(document["takes"][i].dump()).value(), log.takes[i]) << i;
}

TEST(LogExport, JsonOfAnEmptyLogAgreesWithItsSchema) {
    const FilledLog log(0);
    EXPECT_EQ(faultBySchema(nlohmann::json::parse(exportJson(*log.store, {}).value())), "");
}

TEST(LogExport, SchemaNoticesWhatIsNotAnExport) {
    const FilledLog log(1);
    const auto document = nlohmann::json::parse(exportJson(*log.store, {}).value());
    const auto broken = [&](auto&& breakIt) {
        auto copy = document;
        breakIt(copy["takes"][0]);
        return faultBySchema(copy);
    };
    EXPECT_NE(broken([](auto& take) { take.erase("id"); }), "");
    EXPECT_NE(broken([](auto& take) { take["another"] = 1; }), "");
    EXPECT_NE(broken([](auto& take) { take["state"] = "open"; }), "");
    EXPECT_NE(broken([](auto& take) { take["performance"]["notes"][0]["outcome"] = "good"; }), "");
    EXPECT_NE(broken([](auto& take) { take["performance"]["notes"][0]["cents"] = "7"; }), "");
    EXPECT_NE(broken([](auto& take) { take["performance"]["changes"][0]["valves"]["to"] = "1-9"; }), "");
    EXPECT_NE(broken([](auto& take) { take["performance"]["segments"][0].erase("clean"); }), "");
}

TEST(LogExport, CsvFollowsRfc4180AndHoldsEveryRow) {
    const FilledLog log(12);
    const auto folder = log.folder / "csv";
    const auto done = exportCsv(*log.store, {}, folder);
    ASSERT_TRUE(done.ok()) << done.problem().text();
    std::size_t notes = 0, changes = 0, segments = 0;
    const Table takes = readCsv(folder / "takes.csv");
    ASSERT_EQ(takes.size(), log.takes.size() + 1);
    for (std::size_t i = 0; i < log.takes.size(); ++i) {
        const TakeRecord& take = log.takes[i];
        EXPECT_EQ(cell(takes, i + 1, "id"), take.header.id);
        EXPECT_EQ(cell(takes, i + 1, "player"), take.header.player);
        EXPECT_EQ(cell(takes, i + 1, "drill_json"), take.header.drillJson);
        EXPECT_EQ(std::stod(cell(takes, i + 1, "played_bpm")), take.playedBpm);
        EXPECT_EQ(cell(takes, i + 1, "round_trip_ms").empty(), !take.roundTripMs);
        notes += take.performance.notes.size() + take.performance.extras.size();
        changes += take.performance.changes.size();
        segments += take.performance.segments.size();
    }
    // 2023-11-14T22:13:20Z is 1700000000 s after the epoch (date -u -d @1700000000).
    EXPECT_EQ(cell(takes, 2, "started_utc"), "2023-11-14T22:13:20.001Z");
    EXPECT_EQ(readCsv(folder / "notes.csv").size(), notes + 1);
    EXPECT_EQ(readCsv(folder / "changes.csv").size(), changes + 1);
    EXPECT_EQ(readCsv(folder / "segments.csv").size(), segments + 1);
    for (const auto& entry : std::filesystem::directory_iterator(folder))
        EXPECT_EQ(entry.path().extension(), ".csv"); // nothing unfinished is left
}

TEST(LogExport, CarriesWhatPlayersSayIsRightAndTheTakesAsHeardWhenAsked) {
    const FilledLog log(1);
    const std::string& id = log.takes[0].header.id;
    const std::vector<NoteReport> reports = reportsOf(log.takes[0].performance);
    ASSERT_GT(reports.size(), 1U);
    ASSERT_TRUE(log.store->correct(id, {reports.front()}, true).ok());

    const auto document = nlohmann::json::parse(exportJson(*log.store, {}).value());
    EXPECT_EQ(faultBySchema(document), "");
    EXPECT_EQ(takeFromJson(document["takes"][0].dump()).value(), log.store->take(id).value());
    const auto heard = nlohmann::json::parse(exportJson(*log.store, {}, true).value());
    EXPECT_EQ(faultBySchema(heard), "");
    EXPECT_EQ(takeFromJson(heard["takes"][0].dump()).value(), log.store->take(id, {.asHeard = true}).value());
    EXPECT_NE(heard["takes"][0]["performance"], document["takes"][0]["performance"]);

    for (const bool asHeard : {false, true}) {
        const auto folder = log.folder / (asHeard ? "heard" : "said");
        ASSERT_TRUE(exportCsv(*log.store, {}, folder, asHeard).ok());
        const Table corrections = readCsv(folder / "corrections.csv");
        ASSERT_EQ(corrections.size(), 2U);
        EXPECT_EQ(cell(corrections, 1, "take"), id);
        EXPECT_EQ(cell(corrections, 1, "score_note"), std::to_string(reports.front().note));
        EXPECT_EQ(cell(corrections, 1, "report"), enumName(reports.front().kind));
    }
    EXPECT_NE(readCsv(log.folder / "said/notes.csv"), readCsv(log.folder / "heard/notes.csv"));
}

TEST(LogExport, CsvShowsExtraNotesAmongTheNotes) {
    const FilledLog log(6);
    const auto folder = log.folder / "csv";
    ASSERT_TRUE(exportCsv(*log.store, {}, folder).ok());
    const Table notes = readCsv(folder / "notes.csv");
    std::size_t expected = 0, found = 0;
    for (const TakeRecord& take : log.takes)
        expected += take.performance.extras.size();
    for (std::size_t row = 1; row < notes.size(); ++row)
        if (cell(notes, row, "outcome") == "extra") {
            ++found;
            EXPECT_FALSE(cell(notes, row, "onset_seconds").empty());
            EXPECT_TRUE(cell(notes, row, "cents").empty());
        }
    EXPECT_GT(expected, 0U);
    EXPECT_EQ(found, expected);
}

TEST(LogExport, FilterRestrictsBothKinds) {
    const FilledLog log(4);
    const TakeFilter filter{.fromUtc = 1700000000002};
    EXPECT_EQ(nlohmann::json::parse(exportJson(*log.store, filter).value())["takes"].size(), 2U);
    ASSERT_TRUE(exportCsv(*log.store, filter, log.folder / "csv").ok());
    EXPECT_EQ(readCsv((log.folder / "csv") / "takes.csv").size(), 3U);
}

TEST(LogExport, FolderThatCannotBeMadeIsToldOf) {
    const FilledLog log(1);
    std::ofstream(log.folder / "file") << "in the way";
    const auto done = exportCsv(*log.store, {}, (log.folder / "file") / "csv");
    ASSERT_FALSE(done.ok());
    EXPECT_FALSE(done.problem().remedy.empty());
}

} // namespace valveladder
