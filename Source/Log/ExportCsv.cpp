#include "Log/Export.h"

#include "Base/Csv.h"
#include "Base/FileBytes.h"
#include "Log/LogStoreImpl.h"

#include <date/date.h>
#include <fmt/format.h>

#include <array>
#include <locale>

namespace valveladder {

namespace {

/// "2026-03-01T17:30:00.000Z" (ISO 8601); the bare milliseconds where the year has not four digits.
std::string timeText(UtcMs time) {
    constexpr UtcMs year0 = -62167219200000;
    constexpr UtcMs year10000 = 253402300800000;
    if (time < year0 || time >= year10000)
        return std::to_string(time);
    return date::format(std::locale::classic(), "%FT%TZ",
                        date::sys_time<std::chrono::milliseconds>(std::chrono::milliseconds(time)));
}

/// One line of a CSV file from a field list. Absent figures are empty fields.
class CsvLine {
public:
    void operator()(const char*, bool value) { add(value ? "true" : "false"); }
    void operator()(const char*, int value) { add(std::to_string(value)); }
    void operator()(const char*, UtcMs value) { add(timeText(value)); }
    void operator()(const char*, double value) { add(fmt::format("{}", finiteOrZero(value))); }
    void operator()(const char*, const std::string& value) { add(csvField(value)); }
    template <typename E>
    requires std::is_enum_v<E>
    void operator()(const char*, E value) { add(std::string(enumName(value))); }
    void operator()(const char*, Combination value) { add(value.name()); }
    void operator()(const char*, const std::vector<std::string>& value) {
        add(value.empty() ? "" : csvField(listToText(value)));
    }
    void operator()(const char*, const std::optional<double>& value) {
        add(value && std::isfinite(*value) ? fmt::format("{}", *value) : "");
    }
    void operator()(const char*, const std::optional<Estimate>& value) {
        if (value)
            fields(*this, *value);
        else
            blanks(4);
    }
    void operator()(const char*, const Change& value) { fields(*this, value); }
    void operator()(const char* field, const PerValve& values) {
        for (const auto& value : values)
            (*this)(field, value);
    }

    void blanks(std::size_t number) {
        for (std::size_t i = 0; i < number; ++i)
            add("");
    }
    [[nodiscard]] const std::string& text() const { return line; }
    [[nodiscard]] std::size_t size() const { return count; }

private:
    void add(const std::string& field) {
        if (count++ > 0)
            line += ',';
        line += field;
    }

    std::string line;
    std::size_t count = 0;
};

/// A CSV file in the making; it bears its name only when it is complete.
class CsvFile {
public:
    CsvFile(const std::filesystem::path& folder, const char* name, const std::vector<std::string>& columns)
        : file(folder / name) {
        CsvLine heading;
        for (const std::string& column : columns)
            heading("", column);
        write(heading);
    }

    void write(const CsvLine& line) { file.write(line.text() + "\r\n"); }
    [[nodiscard]] Result<Done> finish() { return file.finish(); }

private:
    NewFile file;
};

template <typename Row>
std::vector<std::string> resultColumns() {
    SqlColumns columns;
    columns("take", std::string());
    const Row row{};
    fields(columns, row);
    return columns.names;
}

CsvLine takeLine(const TakeRecord& take) {
    CsvLine line;
    const TakeSummary summary = summaryOf(take);
    fields(line, summary);
    recordFields(line, take);
    performanceFields(line, take.performance);
    return line;
}

template <typename Row>
void writeResults(CsvFile& file, const std::string& id, const std::vector<Row>& rows) {
    for (const Row& row : rows) {
        CsvLine line;
        line("take", id);
        fields(line, row);
        file.write(line);
    }
}

/// Extra notes stand among the notes, with the outcome "extra" and the number of the note they came near.
void writeExtras(CsvFile& file, const std::string& id, const std::vector<ExtraNote>& extras) {
    const std::size_t width = resultColumns<NoteResult>().size();
    for (const ExtraNote& extra : extras) {
        CsvLine line;
        line("take", id);
        line("scoreNote", extra.nearIndex);
        line("outcome", std::string("extra"));
        line("played", extra.played);
        line("onsetSeconds", extra.onsetSeconds);
        line("offsetSeconds", extra.offsetSeconds);
        line.blanks(width - 1 - line.size());
        line("likelihood", extra.likelihood); // the last of a note's columns
        file.write(line);
    }
}

} // namespace

Result<Done> exportCsv(const LogStore& log, const TakeFilter& filter, const std::filesystem::path& folder,
                       bool asHeard) {
    std::error_code error;
    std::filesystem::create_directories(folder, error);
    if (error)
        return Problem{"the folder cannot be made: " + error.message(), pathText(folder),
                       "Choose another folder"};
    std::array<CsvFile, 5> files{CsvFile(folder, "takes.csv", takeColumns()),
                                 CsvFile(folder, "notes.csv", resultColumns<NoteResult>()),
                                 CsvFile(folder, "changes.csv", resultColumns<ChangeResult>()),
                                 CsvFile(folder, "segments.csv", resultColumns<SegmentResult>()),
                                 CsvFile(folder, "corrections.csv", resultColumns<Correction>())};
    const auto write = [&](const TakeRecord& take) {
        const std::string& id = take.header.id;
        files[0].write(takeLine(take));
        writeResults(files[1], id, take.performance.notes);
        writeExtras(files[1], id, take.performance.extras);
        writeResults(files[2], id, take.performance.changes);
        writeResults(files[3], id, take.performance.segments);
        writeResults(files[4], id, take.corrections);
        return true;
    };
    const auto visited = log.forEachTake(filter, write, {.asHeard = asHeard});
    if (!visited.ok())
        return visited.problem();
    for (CsvFile& file : files)
        if (auto done = file.finish(); !done)
            return done;
    return Done{};
}

} // namespace valveladder
